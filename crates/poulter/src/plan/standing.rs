//! How a bird stands by the progress so far: what is begun, what is over, and whether it may still be eaten.

use crate::answer::{Finding, TimeEstimate};
use crate::brine::BrineMethod;
use crate::error::Error;
use crate::heat::{ForecastQuery, ProbePlace, ProbeReading, ProbeTrace, RoastSimulationQuery};
use crate::messages::{fill, say};
use crate::roast::RoastMethod;
use crate::rules::{Requirement, Rule, Topic, Verdict};
use crate::serve::{PeriodOut, Side, TimeOutCheck, check_time_out};
use crate::thaw::ThawMethod;
use crate::units::{Duration, ExactTemperature, Temperature, TemperatureUnit};

use crate::bird::{Place, State};

use super::chain::Fallen;
use super::combination::Combination;
use super::model;
use super::moment::Moment;
use super::progress::{Doing, Progress};
use super::raw::raw_topic;
use super::setup::Setup;
use super::types::Abandoned;

/// Poultry begins to freeze at −2.8 °C (ASHRAE Handbook, Refrigeration, thermal properties of foods; from a copy). A
/// colder core has not begun to melt.
const BEGINS_TO_FREEZE: Temperature = Temperature::from_exact(
    ExactTemperature::from_millicelsius(-2_800),
    TemperatureUnit::Celsius,
);

/// Members of a forecast for a plan: the fewest that it takes.
const MEMBERS: u32 = 200;

/// A place of the bird within a sentence.
pub(super) fn in_the_bird(place: Place) -> String {
    if place == Place::Core {
        return say("the-core").to_owned();
    }
    let says = place.says();
    let mut letters = says.chars();
    let first = letters.next().map(|first| first.to_ascii_lowercase());
    first.into_iter().chain(letters).collect()
}

/// What is known of a bird that has been worked on.
#[derive(Clone, Debug, Default)]
pub(super) struct Standing {
    pub(super) bought: Option<Moment>,
    pub(super) thaw: Option<(Moment, ThawMethod)>,
    pub(super) thawed: Option<Moment>,
    pub(super) brine: Option<(Moment, BrineMethod)>,
    pub(super) brined: Option<Moment>,
    pub(super) prepared: Option<Moment>,
    pub(super) roast: Option<Moment>,
    /// How the oven that it is in is run, where the plan before says so.
    pub(super) roast_method: Option<RoastMethod>,
    pub(super) done: Option<Moment>,
    /// The ovens that its birds are in; any where none is known.
    pub(super) ovens: Vec<usize>,
    /// What the progress calls them.
    pub(super) oven_names: Vec<String>,
    readings: Vec<(Moment, Place, Temperature)>,
    out: Vec<PeriodOut>,
}

impl Standing {
    /// Gathers the pieces of progress about one bird; `thaw` and `brine` stand in where a piece does not say how.
    pub(super) fn of(
        news: &[&Progress],
        thaw: Option<ThawMethod>,
        brine: Option<BrineMethod>,
    ) -> Self {
        let mut standing = Self::default();
        let mut news = news.to_vec();
        news.sort_by(|one, other| one.at.cmp(&other.at));
        for piece in news {
            let at = || Some(piece.at.clone());
            match piece.started {
                Some(Doing::Buy) => standing.bought = at(),
                Some(Doing::Thaw) => {
                    let how = piece.thaw.or(thaw).unwrap_or(ThawMethod::Refrigerator);
                    standing.thaw = Some((piece.at.clone(), how));
                    standing.thawed = None;
                }
                Some(Doing::Brine) => {
                    let how = piece.brine.or(brine).unwrap_or(BrineMethod::Dry);
                    standing.brine = Some((piece.at.clone(), how));
                }
                Some(Doing::Prepare) => standing.prepared = at(),
                Some(Doing::Roast) => {
                    standing.roast = at();
                    standing.oven_names.extend(piece.oven.clone());
                }
                None => {}
            }
            match piece.finished {
                Some(Doing::Buy) => standing.bought = at(),
                Some(Doing::Thaw) => standing.thawed = at(),
                Some(Doing::Brine) => standing.brined = at(),
                Some(Doing::Prepare) => standing.prepared = at(),
                Some(Doing::Roast) => standing.done = at(),
                None => {}
            }
            if let Some(reading) = piece.reading {
                let place = piece.place.unwrap_or(Place::Core);
                standing.readings.push((piece.at.clone(), place, reading));
            }
            if let Some(out) = piece.stood_out {
                standing.out.push(PeriodOut {
                    duration: out.duration,
                    surroundings: out.surroundings,
                });
            }
        }
        standing
    }

    /// Whether the thaw is under way with this method, or over.
    pub(super) fn thaws_by(&self, method: Option<ThawMethod>) -> bool {
        self.thaw
            .as_ref()
            .is_some_and(|(_, how)| Some(*how) == method)
    }

    /// Whether this combination gives up a thaw that is under way for another method.
    pub(super) fn switches(&self, combination: Combination) -> bool {
        self.thaw.is_some() && self.thawed.is_none() && !self.thaws_by(combination.thaw)
    }

    /// Why a combination is no longer open.
    pub(super) fn excludes(&self, combination: Combination) -> Option<Fallen> {
        let frozen = matches!(combination.state, State::Frozen | State::PartFrozen);
        if self.thawed.is_some()
            && frozen
            && self.thaw.is_some()
            && !self.thaws_by(combination.thaw)
        {
            return Some(Fallen::because(say("out-thawed-otherwise")));
        }
        if self.roast.is_some()
            && self
                .roast_method
                .is_some_and(|how| how != combination.roast)
        {
            return Some(Fallen::because(say("out-in-oven-otherwise")));
        }
        if self.roast.is_some() && frozen {
            let never_thawed = self.thaw.is_none() && self.thawed.is_none();
            if never_thawed != (combination.thaw == Some(ThawMethod::FromFrozen))
                || self.switches(combination) && self.thawed.is_none() && !never_thawed
            {
                return Some(Fallen::because(say("out-in-oven-otherwise")));
            }
        }
        let begun = self.brine.as_ref().map(|(_, how)| *how);
        match begun {
            Some(how) if how != combination.brine => Some(Fallen::because(say("out-other-brine"))),
            None if combination.brine != BrineMethod::None
                && (self.prepared.is_some() || self.roast.is_some()) =>
            {
                Some(Fallen::because(say("out-past-brine")))
            }
            _ => None,
        }
    }

    /// The last reading at the core that shows ice in a thaw that is under way.
    pub(super) fn icy_reading(&self) -> Option<(&Moment, Temperature)> {
        let (start, _) = self.thaw.as_ref()?;
        if self.thawed.is_some() || self.is_raw_and_begun() {
            return None;
        }
        let melting = Temperature::from_exact(
            ExactTemperature::from_millicelsius(0),
            TemperatureUnit::Celsius,
        );
        self.readings
            .iter()
            .rfind(|(at, ..)| at > start)
            .filter(|(.., reading)| *reading <= melting)
            .map(|(at, _, reading)| (at, *reading))
    }

    /// From when to when a thaw under way may be over, by the rule's time and the core's temperature.
    ///
    /// A core that has not begun to melt, read after the start, has no credit for the time before: the slow case counts
    /// anew from the reading. So does a bird that is still icy when the rule's time is up. The model, where it covers the
    /// bird, may only make the slow case later and the quick case earlier.
    pub(super) fn thaw_ends(
        &self,
        setup: &Setup<'_>,
        time: TimeEstimate,
    ) -> Option<(Moment, Moment)> {
        let (start, method) = self.thaw.as_ref()?;
        if let Some(thawed) = &self.thawed {
            return Some((thawed.clone(), thawed.clone()));
        }
        let mut early = start.after(time.low);
        let mut late = start.after(time.high);
        if let Some((at, reading)) = self.icy_reading() {
            if reading < BEGINS_TO_FREEZE || *at >= late {
                late = late.max(at.after(time.high));
            }
            if let Some(left) = model::thaw_left(setup, *method, reading) {
                early = early.min(at.after(left.low));
                late = late.max(at.after(left.high));
            }
            early = early.max(at.clone());
        }
        if let Some(now) = &setup.order.now
            && *now > late
        {
            late = now.in_zone_of(&late);
        }
        Some((early, late))
    }

    /// The earliest end of a thaw under way: from a core that has not begun to melt by the model, else by the rule.
    pub(super) fn thawed_at_the_earliest(
        &self,
        setup: &Setup<'_>,
        time: TimeEstimate,
    ) -> Option<Moment> {
        let (_, method) = self.thaw.as_ref()?;
        let hard = self.icy_reading();
        let hard = hard.filter(|(_, reading)| *reading < BEGINS_TO_FREEZE);
        let left = hard.and_then(|(at, reading)| {
            let left = model::thaw_left(setup, *method, reading)?;
            Some(at.after(left.low))
        });
        left.or_else(|| Some(self.thaw_ends(setup, time)?.0))
    }

    /// The last reading in the oven.
    pub(super) fn oven_reading(&self) -> Option<(&Moment, Temperature)> {
        let roast = self.roast.as_ref()?;
        let (at, _, reading) = self.readings.iter().rfind(|(at, ..)| at >= roast)?;
        Some((at, *reading))
    }

    /// The readings in the oven as a question to the forecast; nothing for a bird that is not in it.
    pub(super) fn forecast_query(&self, roasting: RoastSimulationQuery) -> Option<ForecastQuery> {
        let roast = self.roast.as_ref()?;
        let probe = |place: Place| match place {
            Place::Thigh => ProbePlace::Thigh,
            Place::Wing => ProbePlace::Wing,
            Place::Stuffing => ProbePlace::Stuffing,
            _ => ProbePlace::Breast,
        };
        let mut probes: Vec<ProbeTrace> = Vec::new();
        for (at, place, temperature) in self.readings.iter().filter(|(at, ..)| at > roast) {
            let place = probe(*place);
            let reading = ProbeReading {
                elapsed: at.since(roast),
                temperature: *temperature,
            };
            match probes.iter_mut().find(|known| known.place == place) {
                Some(known) => known.readings.push(reading),
                None => probes.push(ProbeTrace {
                    place,
                    readings: vec![reading],
                }),
            }
        }
        Some(ForecastQuery {
            roast: roasting,
            probes,
            seed: 0,
            members: MEMBERS,
        })
    }

    /// Whether the bird must be given up, by the rules for food out of the cold and for a bird that was thawed.
    pub(super) fn judge(
        &self,
        setup: &Setup<'_>,
        name: &str,
    ) -> Result<(Option<Abandoned>, Vec<Finding>), Error> {
        let mut findings = Vec::new();
        let mut worst: Option<Abandoned> = None;
        let mut give_up = |verdict: Verdict, reason: String, rule: String| {
            if worst
                .as_ref()
                .is_none_or(|known| known.verdict != Verdict::Fails)
            {
                worst = Some(Abandoned {
                    bird: name.to_owned(),
                    verdict,
                    reason,
                    rule,
                });
            }
        };
        if !self.out.is_empty() {
            let check = TimeOutCheck {
                periods: self.out.clone(),
                side: Some(Side::Cold),
                standard: setup.order.standard.clone(),
                species: setup.species,
                cut: setup.cut,
                on: setup.case(None).on,
            };
            let judged = check_time_out(setup.book, &check)?.answer;
            let decisive = judged
                .findings
                .iter()
                .find(|finding| finding.verdict == Some(judged.verdict));
            if judged.verdict != Verdict::Meets
                && let Some(finding) = decisive
            {
                give_up(
                    judged.verdict,
                    finding.text.clone(),
                    finding.rule.clone().unwrap_or_default(),
                );
            }
            findings.extend(judged.findings);
        }
        if let Some(now) = &setup.order.now
            && let Some((since, rule)) = self.raw_for(setup)
            && let Requirement::Keep { high, .. } = &rule.requirement
            && now.since(since) > *high
        {
            let reason = fill(
                self.waited(),
                &[
                    ("time", &now.since(since).shown()),
                    ("limit", &high.shown()),
                ],
            );
            findings.push(Finding::verdict(Verdict::Fails, reason.clone(), rule, None));
            give_up(Verdict::Fails, reason, rule.id.clone());
        }
        if self.roast.is_none()
            && self.out.is_empty()
            && let Some((_, place, reading)) = self.readings.last()
            && let Some(rule) = setup.book.find(Topic::HoldCold, &setup.case(None))
            && let Requirement::Temperature { limit } = &rule.requirement
            && limit.judge(*reading).0 != Verdict::Meets
        {
            let reason = fill(
                "bad-warm",
                &[
                    ("reading", &reading),
                    ("place", &in_the_bird(*place)),
                    ("limit", &limit.shown()),
                ],
            );
            findings.push(Finding::verdict(
                Verdict::CannotTell,
                reason.clone(),
                rule,
                Some(limit.judge(*reading).1),
            ));
            give_up(Verdict::CannotTell, reason, rule.id.clone());
        }
        Ok((worst, findings))
    }

    /// Since when the bird has been raw and unfrozen in the refrigerator, and the rule that limits it; nothing once it is
    /// in the oven.
    fn raw_for<'s>(&'s self, setup: &'s Setup<'_>) -> Option<(&'s Moment, &'s Rule)> {
        let rule = |topic, state| setup.book.find(topic, &setup.case(Some(state)));
        if self.roast.is_some() {
            return None;
        }
        match (&self.thawed, setup.bird.state) {
            (Some(thawed), _) if self.thaws_by(Some(ThawMethod::Refrigerator)) => Some((
                thawed,
                rule(Topic::ThawKeepAfterRefrigerator, State::Thawed)?,
            )),
            (None, Some(State::Thawed)) => Some((
                setup.raw_since()?,
                rule(Topic::ThawKeepAfterRefrigerator, State::Thawed)?,
            )),
            (None, Some(State::Fresh)) => Some((
                setup.raw_since()?,
                rule(raw_topic(setup.cut), State::Fresh)?,
            )),
            _ => None,
        }
    }

    const fn waited(&self) -> &'static str {
        if self.thawed.is_some() {
            "bad-waited"
        } else {
            "bad-waited-raw"
        }
    }

    /// Whether anything was done to the bird.
    pub(super) const fn has_begun(&self) -> bool {
        self.thaw.is_some() || self.is_raw_and_begun()
    }

    /// Whether the bird is past its thaw, so that nothing before the brine is left to do.
    pub(super) const fn is_raw_and_begun(&self) -> bool {
        self.thawed.is_some()
            || self.brine.is_some()
            || self.prepared.is_some()
            || self.roast.is_some()
    }

    /// How long the bird has been in the oven at `now`, when it is not done.
    pub(super) fn in_oven(&self, now: Option<&Moment>) -> Option<Duration> {
        let roast = self.roast.as_ref()?;
        if let Some(done) = &self.done {
            return Some(done.since(roast));
        }
        Some(now.map_or(Duration::ZERO, |now| now.since(roast)))
    }
}
