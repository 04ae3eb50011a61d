//! A plan in the words a reader sees, before any kind of sheet or format.

use poulter::Answer;
use poulter::plan::{Moment, Order, Plan};
use poulter::rules::Rulebook;
use poulter::units::{HourClock, UnitSystem};

use crate::entry::{self, Day, Entry};
use crate::sources::Sources;
use crate::ways::{Way, ways};
use crate::wording::{Remark, clean, remark, shown, told};
use crate::words::{fill, say};

/// What a sheet is made from.
#[derive(Clone, Copy)]
pub(crate) struct Job<'a> {
    pub(crate) book: &'a Rulebook,
    pub(crate) order: &'a Order,
    pub(crate) plan: &'a Answer<Plan>,
}

impl Job<'_> {
    /// Stations and birds at each; a kitchen without a class has one station for each bird.
    pub(crate) fn stations(&self) -> (u32, u32) {
        let birds = self.birds();
        match &self.order.class {
            Some(class) => (class.stations, birds.div_ceil(class.stations.max(1)).max(1)),
            None => (birds, 1),
        }
    }

    /// How many birds there are in all.
    pub(crate) fn birds(&self) -> u32 {
        let plan = &self.plan.answer;
        if plan.birds.is_empty() {
            plan.bird.count
        } else {
            plan.birds.iter().map(|line| line.count).sum()
        }
    }

    pub(crate) fn guests(&self) -> u32 {
        self.order.guests.adults + self.order.guests.children
    }
}

pub(crate) struct Sheet {
    pub(crate) feasible: bool,
    pub(crate) title: String,
    pub(crate) serve_at: Moment,
    pub(crate) clock: HourClock,
    pub(crate) units: UnitSystem,
    /// Stable words for ids: what is cooked.
    pub(crate) subject: String,
    pub(crate) facts: Vec<(&'static str, String)>,
    pub(crate) days: Vec<Day>,
    pub(crate) shopping: Vec<Shopping>,
    pub(crate) findings: Vec<Remark>,
    pub(crate) runners_up: Vec<Way>,
    pub(crate) fell_out: Vec<Way>,
    pub(crate) changes: Vec<String>,
    pub(crate) news: Vec<String>,
    pub(crate) abandoned: Vec<Remark>,
    pub(crate) assumed: Vec<String>,
    pub(crate) cautions: Vec<String>,
    pub(crate) sources: Sources,
}

pub(crate) struct Shopping {
    pub(crate) item: String,
    pub(crate) amount: String,
    pub(crate) note: String,
}

impl Sheet {
    pub(crate) fn of(job: &Job<'_>) -> Self {
        let Job { book, plan, .. } = *job;
        let (citations, answer) = (&plan.citations, &plan.answer);
        let units = answer.units;
        let kept = answer.chains.iter().filter(|chain| chain.kept);
        let listed = |texts: &[String]| texts.iter().map(|text| told(text, units)).collect();
        Self {
            feasible: answer.feasible,
            title: clean(&answer.title),
            serve_at: answer.serve_at.clone(),
            clock: answer.clock,
            units,
            subject: format!("{}-{}", answer.bird.species.name(), answer.bird.cut.name()),
            facts: facts(job),
            days: entry::days(answer, book, citations),
            shopping: answer
                .shopping
                .iter()
                .map(|line| Shopping {
                    item: clean(&line.item),
                    amount: line
                        .amount
                        .as_ref()
                        .map_or_else(String::new, |amount| shown(amount, units)),
                    note: told(&line.note, units),
                })
                .collect(),
            findings: answer
                .findings
                .iter()
                .map(|finding| remark(finding, units, citations))
                .collect(),
            runners_up: ways(kept.skip(usize::from(answer.feasible)), units),
            fell_out: ways(answer.chains.iter().filter(|chain| !chain.kept), units),
            changes: changes(answer),
            news: answer
                .news
                .iter()
                .map(|news| {
                    let (what, why) = (told(&news.what, units), told(&news.why, units));
                    fill("news-line", &[("what", &what), ("why", &why)])
                })
                .collect(),
            abandoned: answer
                .abandoned
                .iter()
                .map(|lost| Remark {
                    label: crate::words::capital(lost.verdict.word()),
                    text: fill(
                        "abandoned-line",
                        &[
                            ("bird", &clean(&lost.bird)),
                            ("reason", &told(&lost.reason, units)),
                        ],
                    ),
                })
                .collect(),
            assumed: listed(&plan.assumed),
            cautions: listed(&plan.cautions),
            sources: Sources::of(citations),
        }
    }

    pub(crate) fn entries(&self) -> impl Iterator<Item = &Entry> {
        self.days.iter().flat_map(|day| &day.entries)
    }

    /// The heading above the ways that fell out.
    pub(crate) fn ways_heading(&self) -> &'static str {
        say(if self.feasible {
            "other-ways"
        } else {
            "why-not"
        })
    }
}

fn changes(plan: &Plan) -> Vec<String> {
    let words = |change: &poulter::plan::Change| {
        let text = told(&change.change, plan.units);
        let when = change.serve_at.shown(plan.clock);
        if text.contains(&when) {
            return text;
        }
        let served = fill("served", &[("when", &when)]);
        format!("{} ({served})", text.trim_end_matches('.'))
    };
    plan.changes.iter().map(words).collect()
}

fn facts(job: &Job<'_>) -> Vec<(&'static str, String)> {
    let plan = &job.plan.answer;
    let zone = plan.serve_at.zoned().strftime("%Q").to_string();
    let when = plan.serve_at.shown(plan.clock);
    let mut facts = vec![(
        say("serve"),
        fill("serve-in-zone", &[("when", &when), ("zone", &zone)]),
    )];
    let lines = if plan.birds.is_empty() {
        std::slice::from_ref(&plan.bird)
    } else {
        &plan.birds
    };
    facts.extend(lines.iter().map(|line| (say("bird"), birds(line, plan))));
    let guests = &job.order.guests;
    let key = if guests.children == 0 {
        "guests-adults"
    } else {
        "guests-children"
    };
    let adults_and_children = fill(
        key,
        &[("adults", &guests.adults), ("children", &guests.children)],
    );
    facts.push((say("guests"), adults_and_children));
    if let Some(first) = plan.steps.iter().map(|step| &step.window.latest).min() {
        facts.push((say("start-by"), first.shown(plan.clock)));
    }
    if let Some(chance) = &plan.on_time {
        let percent = chance.probability.as_percent();
        // No plan is certain, however far its times lie from the hour.
        let share = if percent > 99.0 {
            say("chance-certain").to_owned()
        } else {
            format!("{percent:.0} %")
        };
        let on_time = fill(
            "on-time-chance",
            &[("chance", &share), ("within", &chance.within.shown())],
        );
        facts.push((say("on-time"), on_time));
    }
    let standard = job
        .book
        .standard(&plan.standard)
        .map_or_else(|_| clean(&plan.standard), |standard| standard.title.clone());
    facts.push((say("standard"), standard));
    facts
}

fn birds(bird: &poulter::plan::PlannedBird, plan: &Plan) -> String {
    let mut text = bird.in_words(plan.units);
    for (is_so, key) in [
        (bird.stuffed, "birds-stuffed"),
        (bird.to_buy, "birds-to-buy"),
    ] {
        if is_so {
            text = fill(key, &[("birds", &text)]);
        }
    }
    text
}
