import { chromium } from 'playwright-core';
import { readdirSync, writeFileSync } from 'node:fs';
const b = await chromium.launch({executablePath:'/usr/bin/chromium',args:['--no-sandbox','--disable-gpu']});
const which=(process.argv[2]||'').split(',').filter(Boolean);
for (const o of readdirSync('/tmp/sh',{withFileTypes:true}).filter(d=>d.isDirectory()).map(d=>d.name)) for (const f of readdirSync('/tmp/sh/'+o).filter(f=>f.endsWith('.html'))) {
 const key=o+'-'+f.replace('.html','');
 if(which.length && !which.includes(key)) continue;
 const p=await b.newPage({viewport:{width:360,height:800}});
 await p.goto('file:///tmp/sh/'+o+'/'+f);
 await p.screenshot({path:'/tmp/shots/'+key+'-360.png',fullPage:true});
 await p.setViewportSize({width:1280,height:800});
 await p.screenshot({path:'/tmp/shots/'+key+'-1280.png',fullPage:true});
 for (const fmt of ['A4','Letter']) writeFileSync('/tmp/shots/'+key+'-'+fmt+'.pdf', await p.pdf({format:fmt,preferCSSPageSize:false}));
 await p.close();
}
await b.close();
