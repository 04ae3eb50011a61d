//! One combination of methods, timed back from the serving hour, or the reason why it falls out.

use crate::answer::{Basis, TimeEstimate};
use crate::brine::BrineMethod;
use crate::error::Error;
use crate::messages::{fill, say};
use crate::roast::{Oven, RoastTime};
use crate::rules::{Case, Requirement, Rule, Rulebook, Topic};
use crate::serve;
use crate::thaw::{ThawMethod, ThawTime};
use crate::units::{Duration, DurationUnit, Mass};

use super::combination::Combination;
use super::criteria::{criteria, thaw_busy};
use super::hours::Hours;
use super::model::ModelTime;
use super::moment::Moment;
use super::raw::{RawTime, brine_span};
use super::setup::Setup;
use super::stretch::{roast_of, thaw_of};
use super::types::Criteria;

/// Time to take the bird out, remove giblets and neck, dry and season it. Common practice, no source.
pub(super) const PREPARE: Duration = Duration::from_steps(45 * 60_000, DurationUnit::Minute);

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
    pub(super) oven: Oven,
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
    /// How long it may be held hot.
    pub(super) hold_limit: Duration,
    pub(super) criteria: Criteria,
}

/// When something may start.
#[derive(Clone)]
pub(super) struct Span {
    pub(super) earliest: Moment,
    pub(super) planned: Moment,
    pub(super) latest: Moment,
}

impl Span {
    /// Something that has happened.
    pub(super) fn fixed(at: &Moment) -> Self {
        Self {
            earliest: at.clone(),
            planned: at.clone(),
            latest: at.clone(),
        }
    }

    /// Plans it within a lesson, where a class cooks and the window holds one.
    pub(super) fn move_into_lesson(&mut self, setup: &Setup<'_>, busy: Duration) {
        if let Some(at) = Hours::of(setup.order).in_class(self, busy) {
            self.planned = at;
        }
    }

    /// Moves the window on; its latest end stays.
    pub(super) fn not_before(&mut self, at: &Moment) {
        let at = at.in_zone_of(&self.latest).min(self.latest.clone());
        self.earliest = self.earliest.clone().max(at.clone());
        self.planned = self.planned.clone().max(at);
    }
}

/// Times one combination.
pub(super) fn time<'b>(setup: &Setup<'b>, combination: Combination) -> Result<Timing<'b>, Fallen> {
    if let Some(fallen) = setup.standing.excludes(combination) {
        return Err(fallen);
    }
    let case = setup.case(Some(combination.state));
    let mut basis = Basis::new(setup.book, case).map_err(fallen)?;
    basis.units = super::planner::units(setup.order);
    refuse_brine(&mut basis, setup, combination)?;
    let (thaw, thaw_time, thaw_model) = thaw_of(&mut basis, setup, combination)?;
    let (roast, mut roast_time, roast_model) = roast_of(&mut basis, setup, combination)?;
    let rest = serve::resting(&mut basis, setup.mass, |basis| {
        range(basis, Topic::ServeRest)
    })?;
    let mut carve = range(&mut basis, Topic::ServeCarve)?;
    if let Some(own) = setup.hands_on("carve") {
        carve = TimeEstimate::exactly(own);
    }
    let hold_limit = hold_limit(&mut basis);
    let raw = RawTime::of(&mut basis, setup, combination, thaw.as_ref(), thaw_time);

    let carve_start = setup.order.serve_at.before(carve.high);
    let done_by = carve_start.before(rest.low);
    let (oven_in, longest_hold) = match &setup.standing.roast {
        Some(start) => {
            roast_time = in_the_oven(setup, roast_time, start, &done_by)?;
            let early = carve_start
                .before(rest.high)
                .since(&start.after(roast_time.low));
            if !setup.early_is_reheated {
                refuse_hold(early, hold_limit)?;
            }
            (Span::fixed(start), early)
        }
        None => oven_span(
            setup,
            &raw,
            roast_time,
            (&carve_start, &done_by),
            (rest.high, hold_limit),
        )?,
    };
    let prepare_start = match &setup.standing.prepared {
        Some(at) if *at < oven_in.planned => at.clone(),
        _ => oven_in.planned.before(setup.prepare(combination)),
    };
    // A dry brine goes on working while the bird is made ready; a wet one ends when the bird comes out of it.
    let brine_end = match &setup.standing.brined {
        Some(at) => at,
        None if combination.brine == BrineMethod::Dry => &oven_in.planned,
        None => &prepare_start,
    };
    let (thaw_start, brine) = before_the_oven(
        &mut basis,
        setup,
        combination,
        &raw,
        thaw_time,
        (&oven_in, &prepare_start, brine_end),
    )?;
    let next_at_the_latest = brine.as_ref().map_or(&prepare_start, |brine| &brine.latest);
    let must_start_by = next_at_the_latest.before(thaw_time.high);
    let criteria = criteria(
        setup,
        combination,
        thaw_time,
        (&thaw_start, brine.as_ref(), &prepare_start, &oven_in),
        (longest_hold, must_start_by),
    );
    Ok(Timing {
        combination,
        oven: setup.oven,
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
        hold_limit,
        criteria,
    })
}

/// When thaw and brine may start, so that the bird goes into the oven then.
fn before_the_oven(
    basis: &mut Basis<'_>,
    setup: &Setup<'_>,
    combination: Combination,
    raw: &RawTime,
    thaw_time: TimeEstimate,
    (oven_in, prepare_start, brine_end): (&Span, &Moment, &Moment),
) -> Result<(Span, Option<Span>), Fallen> {
    let mut brine = brine_span(basis, setup, combination, raw, brine_end)?;
    let next_at_the_latest = brine.as_ref().map_or(prepare_start, |brine| &brine.latest);
    let must_start_by = next_at_the_latest.before(thaw_time.high);
    let thaw_start = match &setup.standing.thaw {
        Some((start, _)) if setup.standing.thaws_by(combination.thaw) => {
            if setup.standing.brine.is_none()
                && setup.standing.prepared.is_none()
                && setup.standing.roast.is_none()
            {
                let (early, late) = setup
                    .standing
                    .thaw_ends(setup, thaw_time)
                    .unwrap_or_else(|| (start.clone(), start.clone()));
                refuse_after(next_at_the_latest, &late, setup, say("be-thawed"))?;
                if let Some(brine) = &mut brine {
                    brine.not_before(&late);
                }
                refuse_wait(combination, &oven_in.planned, &early, raw.may_wait)?;
            }
            Span::fixed(start)
        }
        _ if setup.standing.is_raw_and_begun() => Span::fixed(&must_start_by),
        _ => {
            refuse_thawing(basis, setup, combination, &oven_in.planned)?;
            refuse_late(setup, &must_start_by)?;
            let next = brine.as_ref().map_or(prepare_start, |brine| &brine.planned);
            thaw_span(setup, combination, raw, thaw_time, (next, &oven_in.planned))?
        }
    };
    if let Some(now) = setup.not_before() {
        if let Some(brine) = brine.as_mut().filter(|_| setup.standing.brine.is_none()) {
            refuse_late(setup, &brine.latest)?;
            brine.not_before(now);
            brine.move_into_lesson(setup, setup.busy("brine"));
        }
        if setup.standing.prepared.is_none() && setup.standing.roast.is_none() {
            refuse_late(setup, prepare_start)?;
        }
        if setup.standing.roast.is_none() {
            refuse_late(setup, &oven_in.planned)?;
        }
    }

    Ok((thaw_start, brine))
}

/// When the bird may go into the oven: done in time in the slow case, and held hot no longer than it may in the quick
/// one.
fn oven_span(
    setup: &Setup<'_>,
    raw: &RawTime,
    roast_time: TimeEstimate,
    (carve_start, done_by): (&Moment, &Moment),
    (longest_rest, hold_limit): (Duration, Duration),
) -> Result<(Span, Duration), Fallen> {
    let mut latest = done_by.before(roast_time.high);
    if let Some(by) = &setup.oven_by {
        latest = latest.min(by.in_zone_of(&setup.order.serve_at));
    }
    let use_by = setup
        .order
        .kit
        .as_ref()
        .map(|kit| latest.end_of(kit.use_by));
    // Going in early keeps a raw bird within its time, and costs only a longer hold.
    let kept = raw.oven_by();
    let use_by_binds = use_by
        .as_ref()
        .is_some_and(|use_by| kept.as_ref().is_none_or(|kept| use_by < kept));
    if let Some(by) = match (kept, use_by) {
        (Some(kept), Some(use_by)) => Some(kept.min(use_by)),
        (kept, use_by) => kept.or(use_by),
    } && by < latest
    {
        let held = carve_start
            .before(longest_rest)
            .since(&by.after(roast_time.low));
        if held > hold_limit {
            return Err(Fallen::because(match &setup.order.kit {
                Some(kit) if use_by_binds => fill(
                    "out-kit-use-by",
                    &[
                        ("date", &kit.use_by.strftime("%a %-d %b %Y")),
                        ("hold", &hold_limit.shown()),
                    ],
                ),
                _ => fill("out-raw-waits", &[("longest", &raw.may_wait.shown())]),
            }));
        }
        latest = by.in_zone_of(&latest);
    }
    let planned = latest.quarter_before();
    let longest_hold = carve_start
        .before(longest_rest)
        .since(&latest.after(roast_time.low));
    if !setup.early_is_reheated {
        refuse_hold(longest_hold, hold_limit)?;
    }
    let spare = hold_limit
        .minus(longest_hold)
        .min(Duration::from_steps(30 * 60_000, DurationUnit::Minute));
    let span = Span {
        earliest: latest.before(spare).min(planned.clone()),
        planned,
        latest,
    };
    Ok((span, longest_hold))
}

/// The time in the oven of a bird that is in it, counted from when it went in.
fn in_the_oven(
    setup: &Setup<'_>,
    time: TimeEstimate,
    start: &Moment,
    done_by: &Moment,
) -> Result<TimeEstimate, Fallen> {
    let standing = &setup.standing;
    let so_far = standing
        .in_oven(setup.order.now.as_ref())
        .unwrap_or(Duration::ZERO);
    let time = if standing.done.is_some() {
        TimeEstimate::exactly(so_far)
    } else {
        TimeEstimate {
            low: time.low.max(so_far),
            likely: time.likely.max(so_far),
            high: time.high,
        }
    };
    if time.high < so_far {
        return Err(Fallen::because(say("out-time-ran-out")));
    }
    let slow = start.after(time.high);
    if slow > *done_by {
        return Err(Fallen {
            reason: fill(
                "out-late",
                &[("time", &slow.shown(super::planner::clock(setup.order)))],
            ),
            late_by: Some(slow.since(done_by)),
        });
    }
    Ok(time)
}

fn refuse_hold(hold: Duration, limit: Duration) -> Result<(), Fallen> {
    if hold <= limit {
        return Ok(());
    }
    Err(Fallen::because(fill(
        "out-held-too-long",
        &[("hold", &hold.shown()), ("limit", &limit.shown())],
    )))
}

fn refuse_after(
    latest: &Moment,
    ready: &Moment,
    setup: &Setup<'_>,
    what: &str,
) -> Result<(), Fallen> {
    if ready <= latest {
        return Ok(());
    }
    Err(Fallen {
        reason: fill(
            "out-ready-late",
            &[
                ("what", &what),
                ("time", &ready.shown(super::planner::clock(setup.order))),
            ],
        ),
        late_by: Some(ready.since(latest)),
    })
}

fn refuse_wait(
    combination: Combination,
    oven_in: &Moment,
    thawed: &Moment,
    may_wait: Duration,
) -> Result<(), Fallen> {
    if combination.thaw == Some(ThawMethod::Refrigerator) && oven_in.since(thawed) > may_wait {
        return Err(Fallen::because(fill(
            "out-thawed-early",
            &[("longest", &may_wait.shown())],
        )));
    }
    Ok(())
}

/// A bird that lies thawing in the refrigerator until another thaw begins must not be thawed too long by then.
fn refuse_thawing(
    basis: &mut Basis<'_>,
    setup: &Setup<'_>,
    combination: Combination,
    oven_in: &Moment,
) -> Result<(), Fallen> {
    if !setup.is_thawing(combination) {
        return Ok(());
    }
    let in_refrigerator = Combination {
        thaw: Some(ThawMethod::Refrigerator),
        ..combination
    };
    let (thaw, time, _) = thaw_of(basis, setup, in_refrigerator)?;
    let longest = thaw
        .and_then(|thaw| thaw.may_wait)
        .map_or(Duration::ZERO, |wait| wait.high);
    let early = setup.standing.thawed_at_the_earliest(setup, time);
    match early.as_ref().or_else(|| setup.first_now()) {
        Some(early) if oven_in.since(early) > longest => Err(Fallen::because(fill(
            "out-thawing-waits",
            &[("longest", &longest.shown())],
        ))),
        _ => Ok(()),
    }
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
    refuse_wait(
        combination,
        oven_in,
        &thaw_latest.after(thaw_time.low),
        raw.may_wait,
    )?;
    let thaw_earliest = oven_in
        .before(raw.may_wait)
        .before(thaw_time.low)
        .min(thaw_latest.clone());
    let thaw_earliest = later_of(thaw_earliest, setup.not_before()).min(thaw_latest.clone());
    let wished = Hours::of(setup.order).before(&thaw_latest).quarter_before();
    let thaw_planned = if thaw_time.high > Duration::ZERO && wished >= thaw_earliest {
        wished
    } else {
        thaw_latest.clone()
    };
    let mut span = Span {
        earliest: thaw_earliest,
        planned: thaw_planned,
        latest: thaw_latest,
    };
    span.move_into_lesson(setup, thaw_busy(setup, combination, thaw_time));
    Ok(span)
}

#[expect(
    clippy::needless_pass_by_value,
    reason = "the shape that map_err asks for"
)]
pub(super) fn fallen(error: Error) -> Fallen {
    Fallen::because(error.expected().to_owned())
}

fn later_of(moment: Moment, other: Option<&Moment>) -> Moment {
    match other {
        Some(other) if *other > moment => other.in_zone_of(&moment),
        _ => moment,
    }
}

pub(super) fn is_salted(setup: &Setup<'_>) -> bool {
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
        let rule = crate::brine::salted_bird(basis, setup.bird.kosher);
        let id = rule.map_or("", |rule| rule.id.as_str());
        return Err(Fallen::because(fill("out-holds-salt", &[("id", &id)])));
    }
    if !setup.refrigerator_is_cold {
        return Err(Fallen::because(say("out-warm-for-brine")));
    }
    match combination.thaw {
        Some(ThawMethod::FromFrozen) => Err(Fallen::because(say("out-frozen-brine"))),
        Some(ThawMethod::ColdWater | ThawMethod::RunningWater | ThawMethod::Microwave) => {
            Err(Fallen::because(say("out-thawed-in-water")))
        }
        _ => Ok(()),
    }
}

pub(super) fn range(basis: &mut Basis<'_>, topic: Topic) -> Result<TimeEstimate, Fallen> {
    let rule = basis.require(topic).map_err(fallen)?;
    rule.requirement
        .time_for(Mass::ZERO)
        .ok_or_else(|| Fallen::because(fill("out-no-range", &[("rule", &rule.id)])))
}

pub(super) fn limit(basis: &mut Basis<'_>, topic: Topic) -> Option<Duration> {
    match &basis.find(topic)?.requirement {
        Requirement::Time { limit, .. } => Some(limit.duration),
        Requirement::Keep { high, .. } | Requirement::TimeRange { high, .. } => Some(*high),
        _ => None,
    }
}

/// How long food may be held hot, with the rule. A standard that sets a temperature and no time has the shortest time
/// that another one prints.
pub(super) fn longest_hold<'b>(
    book: &'b Rulebook,
    case: &Case<'b>,
) -> Option<(Duration, &'b Rule)> {
    let printed = |case: &Case<'b>| {
        let rule = book.find(Topic::HoldHotTime, case)?;
        match &rule.requirement {
            Requirement::Time { limit, .. } => Some((limit.duration, rule)),
            _ => None,
        }
    };
    printed(case).or_else(|| {
        book.find(Topic::HoldHot, case)?;
        let others = book.standards().iter().filter_map(|other| {
            printed(&Case {
                standard: &other.id,
                ..*case
            })
        });
        others.min_by_key(|(time, _)| *time)
    })
}

fn hold_limit(basis: &mut Basis<'_>) -> Duration {
    let Some((time, rule)) = longest_hold(basis.book, &basis.case) else {
        return Duration::ZERO;
    };
    basis.note(rule);
    if basis.book.find(Topic::HoldHotTime, &basis.case).is_none() {
        basis.assume(fill(
            "assume-hot-hold",
            &[
                ("standard", &basis.case.standard),
                ("time", &time.shown()),
                ("other", &rule.standard()),
            ],
        ));
    }
    time
}

fn refuse_late(setup: &Setup<'_>, must_start_by: &Moment) -> Result<(), Fallen> {
    match setup.not_before() {
        Some(now) if now > must_start_by => Err(Fallen {
            reason: fill(
                "out-start-past",
                &[(
                    "time",
                    &must_start_by.shown(super::planner::clock(setup.order)),
                )],
            ),
            late_by: Some(now.since(must_start_by)),
        }),
        _ => Ok(()),
    }
}
