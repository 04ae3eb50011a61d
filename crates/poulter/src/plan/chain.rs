//! One combination of methods, timed back from the serving hour, or the reason why it falls out.

use crate::answer::{Basis, TimeEstimate};
use crate::bird::{Cut, Species, State};
use crate::brine::BrineMethod;
use crate::error::{Error, ErrorKind};
use crate::roast::{self, RoastMethod, RoastQuery, RoastTime};
use crate::rules::{Case, Requirement, Rulebook, Topic};
use crate::thaw::{self, ThawMethod, ThawTime};
use crate::units::{Duration, DurationUnit, Mass};

use super::model::{self, ModelTime, ModelTimes};
use super::moment::Moment;
use super::order::{Bird, Order};
use super::types::Criteria;

/// Time to take the bird out, remove giblets and neck, dry and season it. Common practice, no source.
pub(super) const PREPARE: Duration = Duration::from_steps(45 * 60_000, DurationUnit::Minute);

/// The quick end of refrigerator thawing against the table's line of 24 h for each 4 lb: the source's own words are
/// "24 h for each 4 to 5 lb", so four fifths (USDA FSIS, *Turkey Basics: Safe Thawing*; derived).
const QUICK_THAW: (i64, i64) = (4, 5);

/// What all combinations of an order share.
#[derive(Clone)]
pub(super) struct Setup<'b> {
    pub(super) book: &'b Rulebook,
    pub(super) order: &'b Order,
    pub(super) bird: &'b Bird,
    pub(super) species: Species,
    pub(super) cut: Cut,
    /// Mass of one bird.
    pub(super) mass: Mass,
    pub(super) stuffed: bool,
    pub(super) to_buy: bool,
    pub(super) refrigerator_is_cold: bool,
    pub(super) model: ModelTimes,
}

impl<'b> Setup<'b> {
    pub(super) fn case(&self, state: Option<State>) -> Case<'b> {
        Case {
            standard: &self.order.standard,
            species: self.species,
            cut: self.cut,
            state,
            process: None,
            on: Some(self.order.serve_at.zoned().date()),
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Combination {
    pub(super) state: State,
    pub(super) thaw: Option<ThawMethod>,
    pub(super) brine: BrineMethod,
    pub(super) roast: RoastMethod,
}

/// Why a combination falls out.
pub(super) struct Fallen {
    pub(super) reason: String,
    /// How much later dinner would have to be, where only the clock is in the way.
    pub(super) late_by: Option<Duration>,
}

impl Fallen {
    pub(super) fn because(reason: impl Into<String>) -> Self {
        Self {
            reason: reason.into(),
            late_by: None,
        }
    }
}

/// When each stage of a combination happens.
pub(super) struct Timing<'b> {
    pub(super) combination: Combination,
    pub(super) basis: Basis<'b>,
    pub(super) thaw: Option<ThawTime>,
    /// The thaw as planned, which may be shorter than the method's own time for a part-frozen bird.
    pub(super) thaw_time: TimeEstimate,
    pub(super) thaw_model: Option<ModelTime>,
    pub(super) roast: RoastTime,
    pub(super) roast_time: TimeEstimate,
    pub(super) roast_model: Option<ModelTime>,
    pub(super) rest: TimeEstimate,
    pub(super) carve: TimeEstimate,
    pub(super) thaw_start: Span,
    pub(super) brine_start: Option<Span>,
    pub(super) prepare_start: Moment,
    pub(super) oven_in: Span,
    pub(super) carve_start: Moment,
    pub(super) criteria: Criteria,
}

/// When something may start.
#[derive(Clone)]
pub(super) struct Span {
    pub(super) earliest: Moment,
    pub(super) planned: Moment,
    pub(super) latest: Moment,
}

/// Every combination that the order leaves open, in the order of preference where all else is equal.
pub(super) fn combinations(order: &Order, states: &[State]) -> Vec<Combination> {
    let thaws = match order.methods.thaw {
        Some(thaw) => vec![thaw],
        None => vec![
            ThawMethod::Refrigerator,
            ThawMethod::ColdWater,
            ThawMethod::RunningWater,
            ThawMethod::Microwave,
            ThawMethod::InBrine,
            ThawMethod::FromFrozen,
        ],
    };
    let brines = match order.methods.brine {
        Some(brine) => vec![brine],
        None => vec![BrineMethod::Dry, BrineMethod::Wet, BrineMethod::None],
    };
    let roasts = match order.methods.roast {
        Some(roast) => vec![roast],
        None => vec![RoastMethod::Steady, RoastMethod::HighStart],
    };
    let mut all = Vec::new();
    for &state in states {
        let thaws: Vec<Option<ThawMethod>> = match state {
            State::Frozen | State::PartFrozen => thaws.iter().copied().map(Some).collect(),
            State::Fresh | State::Thawed => vec![None],
        };
        for &thaw in &thaws {
            for &brine in &brines {
                all.extend(roasts.iter().map(|&roast| Combination {
                    state,
                    thaw,
                    brine,
                    roast,
                }));
            }
        }
    }
    all
}

/// Times one combination.
pub(super) fn time<'b>(setup: &Setup<'b>, combination: Combination) -> Result<Timing<'b>, Fallen> {
    let case = setup.case(Some(combination.state));
    let mut basis = Basis::new(setup.book, case).map_err(fallen)?;
    basis.units = super::planner::units(setup.order);
    refuse_brine(&mut basis, setup, combination)?;
    let (thaw, thaw_time, thaw_model) = thaw_of(&mut basis, setup, combination)?;
    let (roast, roast_time, roast_model) = roast_of(&mut basis, setup, combination)?;
    let rest = range(&mut basis, Topic::ServeRest)?;
    let carve = range(&mut basis, Topic::ServeCarve)?;
    let hold_limit = limit(&mut basis, Topic::HoldHotTime).unwrap_or(Duration::ZERO);

    let serve = &setup.order.serve_at;
    let carve_start = serve.before(carve.high);
    let oven_latest = carve_start.before(rest.low).before(roast_time.high);
    let oven_planned = oven_latest.quarter_before();
    // In the quick case the bird is done early and has to be held hot once its rest is over.
    let waits = |from: &Moment| {
        carve_start
            .before(rest.high)
            .since(&from.after(roast_time.low))
    };
    let longest_hold = waits(&oven_latest);
    if longest_hold > hold_limit {
        return Err(Fallen::because(format!(
            "done early, the bird might have to be held hot for {}, longer than {}",
            longest_hold.shown(),
            hold_limit.shown()
        )));
    }
    let spare = hold_limit
        .minus(longest_hold)
        .min(Duration::from_steps(30 * 60_000, DurationUnit::Minute));
    let oven_in = Span {
        earliest: oven_latest.before(spare).min(oven_planned.clone()),
        planned: oven_planned,
        latest: oven_latest,
    };

    let prepare_start = oven_in.planned.before(PREPARE);
    let raw = RawTime::of(&mut basis, setup, combination, thaw.as_ref(), thaw_time);
    // A dry brine goes on working while the bird is made ready; a wet one ends when the bird comes out of it.
    let brine_end = if combination.brine == BrineMethod::Dry {
        &oven_in.planned
    } else {
        &prepare_start
    };
    let brine = brine_span(&mut basis, setup, combination, &raw, brine_end)?;
    let next = brine
        .as_ref()
        .map_or(&prepare_start, |brine| &brine.planned);
    let next_at_the_latest = brine.as_ref().map_or(&prepare_start, |brine| &brine.latest);
    let must_start_by = next_at_the_latest.before(thaw_time.high);
    refuse_late(setup, &must_start_by)?;
    if let Some(reason) = raw.too_long_in_hand(setup, &oven_in.planned) {
        return Err(Fallen::because(reason));
    }

    let thaw_start = thaw_span(
        setup,
        combination,
        &raw,
        thaw_time,
        (next, &oven_in.planned),
    )?;
    let night = |start: &Moment| u32::from(!start.is_waking());
    let criteria = Criteria {
        night_steps: night(&thaw_start.planned)
            + brine.as_ref().map_or(0, |brine| night(&brine.planned))
            + night(&prepare_start),
        compromises: u32::from(combination.brine == BrineMethod::None && !is_salted(setup))
            + u32::from(combination.thaw == Some(ThawMethod::FromFrozen)),
        attended: attended(combination, thaw_time),
        longest_hold,
        must_start_by,
    };
    Ok(Timing {
        combination,
        basis,
        thaw,
        thaw_time,
        thaw_model,
        roast,
        roast_time,
        roast_model,
        rest,
        carve,
        thaw_start,
        brine_start: brine,
        prepare_start,
        oven_in,
        carve_start,
        criteria,
    })
}

/// When the thaw may start, so that it is done by `next` in the slow case and waits for the oven no longer than it may
/// in the quick one.
fn thaw_span(
    setup: &Setup<'_>,
    combination: Combination,
    raw: &RawTime,
    thaw_time: TimeEstimate,
    (next, oven_in): (&Moment, &Moment),
) -> Result<Span, Fallen> {
    let thaw_latest = next.before(thaw_time.high);
    // Even begun at the last moment, a quick thaw must not leave the bird waiting too long.
    if combination.thaw == Some(ThawMethod::Refrigerator)
        && oven_in.since(&thaw_latest.after(thaw_time.low)) > raw.may_wait
    {
        return Err(Fallen::because(format!(
            "it might be thawed early and then wait longer than {}",
            raw.may_wait.shown()
        )));
    }
    let thaw_earliest = oven_in
        .before(raw.may_wait)
        .before(thaw_time.low)
        .min(thaw_latest.clone());
    let thaw_earliest = later_of(thaw_earliest, setup.order.now.as_ref()).min(thaw_latest.clone());
    let wished = thaw_latest.waking_before().quarter_before();
    let thaw_planned = if thaw_time.high > Duration::ZERO && wished >= thaw_earliest {
        wished
    } else {
        thaw_latest.clone()
    };
    Ok(Span {
        earliest: thaw_earliest,
        planned: thaw_planned,
        latest: thaw_latest,
    })
}

/// Water is changed or watched all along.
const fn attended(combination: Combination, thaw_time: TimeEstimate) -> Duration {
    match combination.thaw {
        Some(ThawMethod::ColdWater | ThawMethod::RunningWater) => thaw_time.high,
        _ => Duration::ZERO,
    }
}

#[expect(
    clippy::needless_pass_by_value,
    reason = "the shape that map_err asks for"
)]
fn fallen(error: Error) -> Fallen {
    Fallen::because(error.expected().to_owned())
}

fn later_of(moment: Moment, other: Option<&Moment>) -> Moment {
    match other {
        Some(other) if *other > moment => other.in_zone_of(&moment),
        _ => moment,
    }
}

fn is_salted(setup: &Setup<'_>) -> bool {
    setup.bird.kosher
        || setup
            .bird
            .solution_added
            .is_some_and(|share| share.steps() > 0)
}

fn refuse_brine(
    basis: &mut Basis<'_>,
    setup: &Setup<'_>,
    combination: Combination,
) -> Result<(), Fallen> {
    if combination.brine == BrineMethod::None {
        return Ok(());
    }
    if is_salted(setup) {
        let rule = basis.find(Topic::BrineSaltedBird);
        let id = rule.map_or("", |rule| rule.id.as_str());
        return Err(Fallen::because(format!(
            "a bird that already holds salt is not brined ({id})"
        )));
    }
    if !setup.refrigerator_is_cold {
        return Err(Fallen::because(
            "the refrigerator is too warm to hold a bird in brine",
        ));
    }
    match combination.thaw {
        Some(ThawMethod::FromFrozen) => {
            Err(Fallen::because("a bird that goes in frozen takes no brine"))
        }
        Some(ThawMethod::ColdWater | ThawMethod::RunningWater | ThawMethod::Microwave) => {
            Err(Fallen::because(
                "a bird thawed in water or a microwave oven is cooked at once, so there is no time for a brine",
            ))
        }
        _ => Ok(()),
    }
}

fn thaw_of(
    basis: &mut Basis<'_>,
    setup: &Setup<'_>,
    combination: Combination,
) -> Result<(Option<ThawTime>, TimeEstimate, Option<ModelTime>), Fallen> {
    let Some(method) = combination.thaw else {
        return Ok((None, TimeEstimate::exactly(Duration::ZERO), None));
    };
    if method == ThawMethod::Refrigerator && !setup.refrigerator_is_cold {
        return Err(Fallen::because("the refrigerator is too warm to thaw in"));
    }
    if method == ThawMethod::FromFrozen && combination.roast == RoastMethod::HighStart {
        return Err(Fallen::because(
            "no published row covers a hot start with a frozen bird",
        ));
    }
    let model = model::thaw_time(setup, method);
    let thaw = thaw::work_out_or(basis, method, setup.mass, model).map_err(fallen)?;
    if let Some(refusal) = &thaw.refusal {
        return Err(Fallen::because(refusal.clone()));
    }
    let Some(printed) = thaw.time else {
        return Err(Fallen::because(
            "the oven maker's table gives the time; none is published to plan by",
        ));
    };
    let mut time = printed;
    let by_model_alone = model == Some(printed);
    match method {
        _ if by_model_alone => {}
        ThawMethod::Refrigerator => {
            time.low = time
                .low
                .max(time.likely.times_ratio(QUICK_THAW.0, QUICK_THAW.1));
        }
        // The rate by the pound is the quick case; the row's upper end the slow one.
        ThawMethod::ColdWater => time.low = time.likely,
        _ => {}
    }
    let model = model.map(|model| ModelTime::beside(model, (!by_model_alone).then_some(time)));
    // The quick end stays the rule's: the model is unsure by a factor of two, and the sheet says from when to look.
    if let Some(model) = model {
        time.high = time.high.max(model.time.high);
    }
    if combination.state == State::PartFrozen && method != ThawMethod::FromFrozen {
        time.low = Duration::ZERO;
        time.likely = time.likely.times_ratio(1, 2);
        basis.assume(
            "A part-frozen bird may need anything from no time to the time of a hard-frozen one.",
        );
    }
    Ok((Some(thaw), time, model))
}

fn roast_of(
    basis: &mut Basis<'_>,
    setup: &Setup<'_>,
    combination: Combination,
) -> Result<(RoastTime, TimeEstimate, Option<ModelTime>), Fallen> {
    let query = RoastQuery {
        mass: setup.mass,
        stuffed: setup.stuffed,
        method: combination.roast,
        from_frozen: combination.thaw == Some(ThawMethod::FromFrozen),
        oven: setup.order.kitchen.oven,
        altitude: setup.order.kitchen.altitude,
        standard: setup.order.standard.clone(),
        species: setup.species,
        cut: setup.cut,
        on: basis.case.on,
    };
    let roast = match roast::work_out(basis, &query) {
        Err(error) if error.kind() == ErrorKind::NoPublishedRow && !query.from_frozen => {
            let roast = roast::without_row(basis, &query);
            let Some(time) = model::roast_time(setup, &query, &roast.oven) else {
                return Err(fallen(error));
            };
            return Ok((roast, time, Some(ModelTime::beside(time, None))));
        }
        roast => roast.map_err(fallen)?,
    };
    match (&roast.refusal, roast.time) {
        (Some(refusal), _) => Err(Fallen::because(refusal.clone())),
        (None, Some(printed)) => {
            let mut time = printed;
            let model = model::roast_time(setup, &query, &roast.oven)
                .map(|model| ModelTime::beside(model, Some(printed)));
            if let Some(model) = model {
                time.low = time.low.min(model.time.low);
                time.high = time.high.max(model.time.high);
            }
            Ok((roast, time, model))
        }
        (None, None) => Err(Fallen::because("no published time for this bird")),
    }
}

fn range(basis: &mut Basis<'_>, topic: Topic) -> Result<TimeEstimate, Fallen> {
    let rule = basis.require(topic).map_err(fallen)?;
    rule.requirement
        .time_for(Mass::ZERO)
        .ok_or_else(|| Fallen::because(format!("the rule {} gives no range of time", rule.id)))
}

pub(super) fn limit(basis: &mut Basis<'_>, topic: Topic) -> Option<Duration> {
    match &basis.find(topic)?.requirement {
        Requirement::Time { limit, .. } => Some(limit.duration),
        Requirement::Keep { high, .. } | Requirement::TimeRange { high, .. } => Some(*high),
        _ => None,
    }
}

/// How long the bird may be raw and unfrozen.
struct RawTime {
    /// From the quick end of thawing, or from buying, to the oven.
    may_wait: Duration,
    /// What part of that time the uncertainty of thawing may eat.
    uncertain: Duration,
    thaw_high: Duration,
}

impl RawTime {
    fn of(
        basis: &mut Basis<'_>,
        setup: &Setup<'_>,
        combination: Combination,
        thaw: Option<&ThawTime>,
        thaw_time: TimeEstimate,
    ) -> Self {
        let may_wait = match (thaw, combination.state) {
            (Some(thaw), _) => thaw.may_wait.map_or(Duration::ZERO, |wait| wait.high),
            (None, State::Thawed) => {
                limit(basis, Topic::ThawKeepAfterRefrigerator).unwrap_or(Duration::ZERO)
            }
            (None, _) if setup.to_buy => {
                limit(basis, Topic::PurchaseFreshWindow).unwrap_or(Duration::ZERO)
            }
            (None, _) => limit(basis, Topic::StorageRaw).unwrap_or(Duration::ZERO),
        };
        Self {
            may_wait,
            uncertain: thaw_time.high.minus(thaw_time.low),
            thaw_high: thaw_time.high,
        }
    }

    /// A raw bird in hand must reach the oven within its time from now, since its age is not known.
    fn too_long_in_hand(&self, setup: &Setup<'_>, oven_in: &Moment) -> Option<String> {
        let now = setup
            .order
            .now
            .as_ref()
            .filter(|_| !setup.to_buy && self.thaw_high == Duration::ZERO)?;
        (oven_in.since(now) > self.may_wait && self.may_wait > Duration::ZERO).then(|| {
            format!(
                "the raw bird in hand would wait {}, longer than {}: freeze it, or buy it later",
                oven_in.since(now).shown(),
                self.may_wait.shown()
            )
        })
    }
}

fn brine_span(
    basis: &mut Basis<'_>,
    setup: &Setup<'_>,
    combination: Combination,
    raw: &RawTime,
    end: &Moment,
) -> Result<Option<Span>, Fallen> {
    let (time, cap) = match combination.brine {
        BrineMethod::None => return Ok(None),
        BrineMethod::Wet => (Topic::BrineWetTime, Topic::BrineWetLimit),
        BrineMethod::Dry => (Topic::BrineDryTime, Topic::BrineDryLimit),
    };
    let wanted = range(basis, time)?;
    let mut longest = wanted.high.min(limit(basis, cap).unwrap_or(wanted.high));
    let made_ready = if combination.brine == BrineMethod::Wet {
        PREPARE
    } else {
        Duration::ZERO
    };
    longest = longest.min(raw.may_wait.minus(raw.uncertain).minus(made_ready));
    if longest < wanted.low {
        return Err(Fallen::because(format!(
            "a brine of at least {} would leave the raw bird waiting longer than {}",
            wanted.low.shown(),
            raw.may_wait.shown()
        )));
    }
    if let Some(now) = &setup.order.now {
        let room = end.since(now).minus(raw.thaw_high);
        let must_start_by = end.before(wanted.low).before(raw.thaw_high);
        refuse_late(setup, &must_start_by)?;
        longest = longest.min(room).max(wanted.low);
    }
    let latest = end.before(wanted.low);
    let earliest = end.before(longest);
    let middle = Duration::from_steps(
        i64::midpoint(wanted.low.steps(), longest.steps()),
        DurationUnit::Hour,
    );
    let wished = end.before(middle).waking_before().quarter_before();
    let planned = if wished >= earliest {
        wished
    } else {
        end.before(middle)
    };
    Ok(Some(Span {
        earliest,
        planned,
        latest,
    }))
}

fn refuse_late(setup: &Setup<'_>, must_start_by: &Moment) -> Result<(), Fallen> {
    match &setup.order.now {
        Some(now) if now > must_start_by => Err(Fallen {
            reason: format!(
                "it would have had to start by {}",
                must_start_by.shown(super::planner::clock(setup.order))
            ),
            late_by: Some(now.since(must_start_by)),
        }),
        _ => Ok(()),
    }
}
