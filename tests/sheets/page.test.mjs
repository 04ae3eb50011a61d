// The pages in a browser: accessible, no wider than a phone, and printed section by section.
// Usage: node --test page.test.mjs, with the folder of pages in PAGES and the browser in CHROMIUM.
import assert from 'node:assert/strict';
import { readFileSync, readdirSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';

const folder = process.env.PAGES;
const pages = readdirSync(folder).filter((name) => name.endsWith('.html')).sort();
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const quiet = ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run',
    '--disable-background-networking', '--disable-component-update', '--disable-sync'];
let browser;

before(async () => {
    browser = await chromium.launch({ executablePath: process.env.CHROMIUM, args: quiet });
});
after(() => browser.close());

async function open(name, width) {
    const page = await browser.newPage({ viewport: { width, height: 800 }, bypassCSP: true });
    await page.goto(pathToFileURL(path.resolve(folder, name)).href);
    return page;
}

test('there is a page of each kind', () => {
    for (const kind of ['host', 'class', 'key', 'shopping', 'labels', 'cards']) {
        assert.ok(pages.some((name) => name.endsWith(`${kind}.html`)), kind);
    }
});

for (const name of pages) {
    for (const width of [360, 1280]) {
        test(`${name} at ${width} px: WCAG 2.2 AA by axe-core, and nothing to scroll sideways`, async () => {
            const page = await open(name, width);
            const wide = await page.evaluate(() => document.documentElement.scrollWidth);
            assert.ok(wide <= width, `${wide} px wide`);
            await page.evaluate(axe);
            const found = await page.evaluate(() => globalThis.axe.run(document, {
                runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
            }));
            const broken = found.violations.map((it) => `${it.id}: ${it.nodes[0].html}`);
            assert.deepEqual(broken, []);
            await page.close();
        });
    }

    test(`${name} on paper: sections begin pages, and no card or row is cut`, async () => {
        const page = await open(name, 800);
        await page.emulateMedia({ media: 'print' });
        const style = await page.evaluate(() => {
            const all = (what, property) => [...document.querySelectorAll(what)]
                .map((it) => getComputedStyle(it)[property]);
            return {
                starts: all('.new-page', 'breakBefore'),
                whole: all('.card, tr, header, figure', 'breakInside'),
                heads: all('h2, h3, h4', 'breakAfter'),
            };
        });
        assert.ok(style.starts.every((it) => it === 'page'));
        assert.ok(style.whole.every((it) => it === 'avoid'));
        assert.ok(style.heads.every((it) => it === 'avoid'));
        for (const format of ['A4', 'Letter']) {
            const pdf = await page.pdf({ format, preferCSSPageSize: false });
            const printed = (pdf.toString('latin1').match(/\/Type \/Page\b/g) ?? []).length;
            assert.ok(printed > style.starts.length, `${printed} pages`);
        }
        await page.close();
    });
}
