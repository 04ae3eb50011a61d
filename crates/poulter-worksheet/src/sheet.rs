//! A plan in the words a reader sees, before any format: every format writes the same sheet.

use poulter::plan::{Amount, Chain, Moment, Plan, Record, Repeat, Resource, Step};
use poulter::rules::{Citation, Margin, Rulebook, Stage};
use poulter::thaw::ThawMethod;
use poulter::units::{Duration, HourClock, TemperatureDifference, UnitSystem};
use poulter::{Answer, Finding, TimeEstimate};

use crate::words;

/// The most ways named under one reason; the rest are counted.
const WAYS_SHOWN: usize = 6;

/// The most times listed for something that comes back; a longer list helps nobody.
const TICKS_SHOWN: i64 = 48;

pub(crate) struct Sheet {
    pub(crate) feasible: bool,
    pub(crate) title: String,
    pub(crate) serve_at: Moment,
    pub(crate) clock: HourClock,
    /// Stable words for ids: what is cooked.
    pub(crate) subject: String,
    pub(crate) facts: Vec<(&'static str, String)>,
    pub(crate) days: Vec<Day>,
    pub(crate) shopping: Vec<Shopping>,
    pub(crate) findings: Vec<Remark>,
    pub(crate) runners_up: Vec<Way>,
    pub(crate) fell_out: Vec<Way>,
    pub(crate) changes: Vec<String>,
    pub(crate) assumed: Vec<String>,
    pub(crate) cautions: Vec<String>,
    pub(crate) sources: Vec<SourceLine>,
}

pub(crate) struct Day {
    pub(crate) name: String,
    pub(crate) entries: Vec<Entry>,
}

/// One step as a reader sees it.
pub(crate) struct Entry {
    pub(crate) number: usize,
    pub(crate) id: String,
    pub(crate) stage: Stage,
    pub(crate) title: String,
    pub(crate) clock: String,
    pub(crate) window: String,
    pub(crate) takes: String,
    pub(crate) needs: String,
    pub(crate) needs_cook: bool,
    pub(crate) to_do: Vec<String>,
    pub(crate) repeat: Option<Ticks>,
    pub(crate) records: Vec<Blank>,
    pub(crate) marks: String,
    pub(crate) start: Moment,
    pub(crate) duration: TimeEstimate,
}

/// Something that comes back, with a time to tick for each.
pub(crate) struct Ticks {
    pub(crate) text: String,
    pub(crate) what: String,
    pub(crate) every: Duration,
    /// How often it comes back in the slow case.
    pub(crate) count: i64,
    pub(crate) times: Vec<String>,
}

/// A line to fill in.
pub(crate) struct Blank {
    pub(crate) what: String,
    pub(crate) limit: String,
    pub(crate) otherwise: String,
}

pub(crate) struct Shopping {
    pub(crate) item: String,
    pub(crate) amount: String,
    pub(crate) note: String,
}

/// A finding with its label ("Meets", "Advice" …).
pub(crate) struct Remark {
    pub(crate) label: String,
    pub(crate) text: String,
}

/// Ways that share a reason.
pub(crate) struct Way {
    pub(crate) names: Vec<String>,
    pub(crate) reason: String,
}

pub(crate) struct SourceLine {
    pub(crate) number: usize,
    pub(crate) title: String,
    pub(crate) rule: String,
    pub(crate) sources: Vec<String>,
    pub(crate) read: String,
    pub(crate) note: String,
}

impl Sheet {
    pub(crate) fn of(plan: &Answer<Plan>) -> Self {
        let (citations, answer) = (&plan.citations, &plan.answer);
        let days = days(answer, citations);
        let kept = answer.chains.iter().filter(|chain| chain.kept);
        let runners_up = ways(kept.skip(usize::from(answer.feasible)));
        let fell_out = ways(answer.chains.iter().filter(|chain| !chain.kept));
        Self {
            feasible: answer.feasible,
            title: clean(&answer.title),
            serve_at: answer.serve_at.clone(),
            clock: answer.clock,
            subject: format!("{}-{}", answer.bird.species.name(), answer.bird.cut.name()),
            facts: facts(answer),
            days,
            shopping: answer
                .shopping
                .iter()
                .map(|line| Shopping {
                    item: clean(&line.item),
                    amount: line
                        .amount
                        .as_ref()
                        .map_or_else(String::new, |amount| shown(amount, answer.units)),
                    note: clean(&line.note),
                })
                .collect(),
            findings: answer
                .findings
                .iter()
                .map(|finding| remark(finding, answer.units, citations))
                .collect(),
            runners_up,
            fell_out,
            changes: answer
                .changes
                .iter()
                .map(|change| {
                    let text = clean(&change.change);
                    let when = change.serve_at.shown(answer.clock);
                    if text.contains(&when) {
                        return text;
                    }
                    format!("{} ({})", text.trim_end_matches('.'), words::served(&when))
                })
                .collect(),
            assumed: plan.assumed.iter().map(|text| clean(text)).collect(),
            cautions: plan.cautions.iter().map(|text| clean(text)).collect(),
            sources: citations
                .iter()
                .enumerate()
                .map(|(index, citation)| source(index + 1, citation))
                .collect(),
        }
    }

    pub(crate) fn entries(&self) -> impl Iterator<Item = &Entry> {
        self.days.iter().flat_map(|day| &day.entries)
    }

    /// The heading above the ways that fell out.
    pub(crate) const fn ways_heading(&self) -> &'static str {
        if self.feasible {
            words::OTHER_WAYS
        } else {
            words::WHY_NOT
        }
    }
}

impl Way {
    /// The ways by name, the later ones only counted.
    pub(crate) fn shown(&self) -> String {
        let mut text = self
            .names
            .iter()
            .take(WAYS_SHOWN)
            .cloned()
            .collect::<Vec<_>>()
            .join("; ");
        if self.names.len() > WAYS_SHOWN {
            text += "; ";
            text += &words::and_more(self.names.len() - WAYS_SHOWN);
        }
        text
    }
}

/// Text that cannot move a terminal's cursor, break a line of the sheet or turn the reading direction.
fn clean(text: &str) -> String {
    let turns = |c: char| matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    let spaced: String = text
        .chars()
        .filter(|c| !turns(*c))
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect();
    spaced.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn facts(plan: &Plan) -> Vec<(&'static str, String)> {
    let zone = plan.serve_at.zoned().strftime("%Q").to_string();
    let bird = &plan.bird;
    let mut facts = vec![
        (
            words::SERVE,
            words::serve_in_zone(&plan.serve_at.shown(plan.clock), &zone),
        ),
        (
            words::BIRD,
            words::birds(
                bird.count,
                &plan.units.mass(bird.mass),
                bird.species.name(),
                bird.state.name(),
                bird.stuffed,
                bird.to_buy,
            ),
        ),
    ];
    if let Some(first) = plan.steps.iter().map(|step| &step.window.latest).min() {
        facts.push((words::START_BY, first.shown(plan.clock)));
    }
    let standard = Rulebook::builtin()
        .standard(&plan.standard)
        .map_or_else(|_| clean(&plan.standard), |standard| standard.title.clone());
    facts.push((words::STANDARD, standard));
    facts
}

fn days(plan: &Plan, citations: &[Citation]) -> Vec<Day> {
    let mut days: Vec<Day> = Vec::new();
    for (index, step) in plan.steps.iter().enumerate() {
        let name = step.window.planned.day();
        let entry = entry(index + 1, step, plan.clock, citations);
        match days.last_mut() {
            Some(day) if day.name == name => day.entries.push(entry),
            _ => days.push(Day {
                name,
                entries: vec![entry],
            }),
        }
    }
    days
}

fn entry(number: usize, step: &Step, clock: HourClock, citations: &[Citation]) -> Entry {
    let start = &step.window.planned;
    let duration = step.duration;
    let likely = about(duration.likely).shown();
    let range = duration.shown();
    let rules = step
        .rules
        .iter()
        .chain(step.record.iter().filter_map(|record| record.rule.as_ref()));
    Entry {
        number,
        id: step.id.clone(),
        stage: step.stage,
        title: clean(&step.title),
        clock: start.clock(clock),
        window: window(step, clock),
        takes: if duration.high == Duration::ZERO {
            String::new()
        } else {
            words::takes(
                &range,
                (duration.low != duration.high).then_some(likely.as_str()),
            )
        },
        needs: step
            .occupies
            .iter()
            .map(|it| words::resource(*it))
            .collect::<Vec<_>>()
            .join(", "),
        needs_cook: step.occupies.contains(&Resource::Cook),
        to_do: step.to_do.iter().map(|text| clean(text)).collect(),
        repeat: step
            .repeat
            .as_ref()
            .and_then(|repeat| ticks(repeat, step, clock)),
        records: step.record.iter().map(blank).collect(),
        marks: marks(rules.map(String::as_str), citations),
        start: start.clone(),
        duration,
    }
}

/// An estimate in steps of five minutes from an hour on; more would promise more than it knows.
fn about(estimate: Duration) -> Duration {
    let minutes = estimate.as_minutes();
    if minutes < 60.0 {
        return estimate;
    }
    Duration::from_minutes((minutes / 5.0).ceil() * 5.0).unwrap_or(estimate)
}

/// When a step may start; the day is written where it is not the step's own.
fn window(step: &Step, clock: HourClock) -> String {
    let planned = &step.window.planned;
    let moment = |at: &Moment| {
        if at.day() == planned.day() {
            at.clock(clock)
        } else {
            at.shown(clock)
        }
    };
    let (earliest, latest) = (&step.window.earliest, &step.window.latest);
    if earliest >= latest {
        words::at_exactly(&moment(planned))
    } else {
        words::between(&moment(earliest), &moment(latest))
    }
}

fn ticks(repeat: &Repeat, step: &Step, clock: HourClock) -> Option<Ticks> {
    let every = repeat.every.steps();
    // At the very end the step is over, so only what falls inside it counts.
    let count = (step.duration.high.steps() - 1)
        .checked_div(every)
        .filter(|count| *count > 0)?;
    let planned = &step.window.planned;
    let mut at = planned.clone();
    let mut day = planned.day();
    let mut times = Vec::new();
    for _ in 0..count.min(TICKS_SHOWN) {
        at = at.after(repeat.every);
        let shown = if at.day() == day {
            at.clock(clock)
        } else {
            at.shown(clock)
        };
        day = at.day();
        times.push(shown);
    }
    let what = clean(&repeat.what);
    Some(Ticks {
        text: words::every(&repeat.every.shown(), &what),
        what,
        every: repeat.every,
        count,
        times,
    })
}

fn blank(record: &Record) -> Blank {
    let what = clean(&record.what);
    Blank {
        what: match record.place {
            Some(place) if !what.to_lowercase().contains(place.name()) => {
                format!("{what}, {}", place.name())
            }
            _ => what,
        },
        limit: clean(&record.limit),
        otherwise: clean(&record.otherwise),
    }
}

fn shown(amount: &Amount, units: UnitSystem) -> String {
    match amount {
        Amount::Mass(mass) => units.mass(*mass),
        Amount::Volume(volume) => units.volume(*volume),
        Amount::Count { count } => count.to_string(),
    }
}

fn remark(finding: &Finding, units: UnitSystem, citations: &[Citation]) -> Remark {
    let mut text = clean(&finding.text);
    if let Some(margin) = finding.margin {
        text = format!("{text} ({})", margin_words(margin, units));
    }
    let marks = marks(finding.rule.as_deref().into_iter(), citations);
    if !marks.is_empty() {
        text = format!("{text} {marks}");
    }
    Remark {
        label: words::label(finding),
        text,
    }
}

fn margin_words(margin: Margin, units: UnitSystem) -> String {
    match margin {
        Margin::Temperature(margin) if margin < TemperatureDifference::ZERO => {
            let short = TemperatureDifference::ZERO.minus(margin);
            words::short_by(&difference(short, units))
        }
        Margin::Temperature(margin) => words::margin(&difference(margin, units)),
        Margin::Duration(margin) if margin < Duration::ZERO => {
            words::short_by(&Duration::ZERO.minus(margin).shown())
        }
        Margin::Duration(margin) => words::margin(&margin.shown()),
    }
}

/// A difference of temperature to a tenth; one that would round to nothing is not shown as nothing.
fn difference(amount: TemperatureDifference, units: UnitSystem) -> String {
    let (value, sign) = match units {
        UnitSystem::UsCustomary => (amount.as_delta_fahrenheit(), "°F"),
        UnitSystem::Metric => (amount.as_delta_celsius(), "°C"),
    };
    if value > 0.0 && value < 0.1 {
        return words::less_than(&format!("0.1 {sign}"));
    }
    let text = format!("{value:.1}");
    format!("{} {sign}", text.trim_end_matches(".0"))
}

/// "[2] [5]": where the rules stand in the list of sources; the id itself where a rule is not listed.
fn marks<'r>(rules: impl Iterator<Item = &'r str>, citations: &[Citation]) -> String {
    let mut marks: Vec<String> = Vec::new();
    for rule in rules {
        let number = citations.iter().position(|citation| citation.rule == rule);
        let mark = number.map_or_else(
            || format!("[{}]", clean(rule)),
            |index| format!("[{}]", index + 1),
        );
        if !marks.contains(&mark) {
            marks.push(mark);
        }
    }
    marks.join(" ")
}

/// The ways under their reasons. Where a reason goes for every way of running the oven, the oven is left out.
fn ways<'c>(chains: impl Iterator<Item = &'c Chain>) -> Vec<Way> {
    let mut groups: Vec<(String, Vec<&Chain>)> = Vec::new();
    for chain in chains {
        let reason = clean(&chain.reason);
        match groups.iter_mut().find(|group| group.0 == reason) {
            Some((_, chains)) => chains.push(chain),
            None => groups.push((reason, vec![chain])),
        }
    }
    groups
        .into_iter()
        .map(|(reason, chains)| Way {
            names: names(&chains),
            reason,
        })
        .collect()
}

fn names(chains: &[&Chain]) -> Vec<String> {
    let mut names = Vec::new();
    for chain in chains {
        let thaw = chain.thaw.map_or(chain.state.name(), ThawMethod::words);
        let name = format!("{thaw}, {}", words::brine(chain.brine));
        let both_ovens = chains.iter().any(|other| {
            (other.state, other.thaw, other.brine) == (chain.state, chain.thaw, chain.brine)
                && other.roast != chain.roast
        });
        let name = if both_ovens {
            name
        } else {
            format!("{name}, {}", chain.roast.words())
        };
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names
}

fn source(number: usize, citation: &Citation) -> SourceLine {
    let mut read = vec![
        words::kind(citation.kind).to_owned(),
        citation.status.words().to_owned(),
        words::checked(&citation.last_checked),
    ];
    if citation.added_by_caller {
        read.push(words::OWN_RULE.to_owned());
    }
    SourceLine {
        number,
        title: clean(&citation.title),
        rule: clean(&citation.rule),
        sources: if citation.sources.is_empty() {
            vec![words::NO_SOURCE.to_owned()]
        } else {
            citation.sources.iter().map(|text| clean(text)).collect()
        },
        read: read.join("; "),
        note: clean(&citation.note),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_from_outside_cannot_steer_a_terminal() {
        assert_eq!(clean("a\u{1b}[2Jb\r\nc\u{202e}d"), "a [2Jb cd");
    }
}
