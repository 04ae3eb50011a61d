//! The planner and its plans.

use poulter_core::plan::{Moment, Order, Step as CoreStep};
use poulter_core::rules::Rulebook;
use poulter_core::{Error, ErrorKind, Request, Response, evaluate_with};

use crate::boundary::{guard, not_null, report, text_in};
use crate::error::CallError;
use crate::status::StatusNumber;
use crate::text::{Terminated, Text};
use crate::times::Time;

/// A planner: the rules it plans by. Nothing changes it once it is made; threads may share it.
#[derive(Debug)]
pub struct Planner(Option<Rulebook>);

/// A plan. Nothing changes it once it is made; threads may share it.
#[derive(Debug)]
pub struct PlanAnswer {
    feasible: bool,
    json: Terminated,
    steps: Vec<StepTexts>,
}

/// One step of a plan. The texts last until the plan is freed.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct Step {
    /// A stable name within the plan, such as `thaw`.
    pub id: Text,
    /// A heading for people.
    pub title: Text,
    /// When it may start at the earliest: RFC 9557 text such as `2026-12-19T18:30:00+00:00[Europe/Lisbon]`.
    pub earliest: Text,
    /// When the sheet has it start.
    pub planned: Text,
    /// When it must start at the latest.
    pub latest: Text,
    /// `earliest` in seconds since 1970 began in Greenwich.
    pub earliest_unix_s: i64,
    /// `planned`, likewise.
    pub planned_unix_s: i64,
    /// `latest`, likewise.
    pub latest_unix_s: i64,
    /// How long it takes.
    pub duration: Time,
}

#[derive(Debug)]
struct StepTexts {
    id: Terminated,
    title: Terminated,
    moments: [(Terminated, i64); 3],
    duration: Time,
}

impl From<&CoreStep> for StepTexts {
    fn from(step: &CoreStep) -> Self {
        let moment = |moment: &Moment| {
            let text = moment.to_string();
            (text.as_str().into(), moment.zoned().timestamp().as_second())
        };
        Self {
            id: step.id.as_str().into(),
            title: step.title.as_str().into(),
            moments: [
                &step.window.earliest,
                &step.window.planned,
                &step.window.latest,
            ]
            .map(moment),
            duration: step.duration.into(),
        }
    }
}

impl StepTexts {
    fn lend(&self) -> Step {
        let [earliest, planned, latest] = &self.moments;
        Step {
            id: self.id.lend(),
            title: self.title.lend(),
            earliest: earliest.0.lend(),
            planned: planned.0.lend(),
            latest: latest.0.lend(),
            earliest_unix_s: earliest.1,
            planned_unix_s: planned.1,
            latest_unix_s: latest.1,
            duration: self.duration,
        }
    }
}

fn plan(planner: &Planner, order: &str) -> Result<PlanAnswer, Error> {
    let book = planner.0.as_ref().unwrap_or_else(|| Rulebook::builtin());
    let response = evaluate_with(book, &Request::Plan(Order::from_text(order)?))?;
    let json = response.to_json()?;
    let Response::Plan(answer) = response else {
        return Err(Error::new(ErrorKind::Internal, "", "a plan is needed"));
    };
    Ok(PlanAnswer {
        feasible: answer.answer.feasible,
        json: json.as_str().into(),
        steps: answer.answer.steps.iter().map(StepTexts::from).collect(),
    })
}

/// A planner that plans by the built-in rules and `house_rules`, TOML text; NULL for none. Free it with
/// `poulter_planner_free`.
///
/// House rules are read and checked once, here. `error` may be NULL.
///
/// # Safety
/// `house_rules` is null or points to `len` readable bytes. `out` is null or may be written. `error` is null, or came
/// from `poulter_error_new` and has not been freed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_planner_new(
    house_rules: *const u8,
    len: usize,
    out: *mut *mut Planner,
    error: *mut CallError,
) -> StatusNumber {
    // SAFETY: the caller's promise about `error` is the same.
    unsafe {
        report(error, || {
            not_null(out, "out")?;
            let book = if house_rules.is_null() {
                None
            } else {
                // SAFETY: the caller's promise about the text is the same.
                let toml = text_in(house_rules, len)?;
                let book = Rulebook::builtin().with_rules(toml);
                Some(book.map_err(|error| error.at("house_rules"))?)
            };
            // SAFETY: not null, and writable by the caller's word.
            out.write(Box::into_raw(Box::new(Planner(book))));
            Ok(())
        })
    }
}

/// Frees a planner; its plans stay. Does nothing with NULL.
///
/// # Safety
/// `planner` is null, or came from `poulter_planner_new` and has not been freed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_planner_free(planner: *mut Planner) {
    guard((), || {
        if !planner.is_null() {
            // SAFETY: it came out of `Box::into_raw` in `poulter_planner_new`, and is given back once.
            drop(unsafe { Box::from_raw(planner) });
        }
    });
}

/// Plans a dinner from an order in TOML or JSON. Free the plan with `poulter_plan_free`.
///
/// An order that cannot be had is a plan that is not feasible, with what would make it so; it is no failure. `error`
/// may be NULL.
///
/// # Safety
/// `planner` is null, or came from `poulter_planner_new` and has not been freed. `order` is null or points to `len`
/// readable bytes. `out` is null or may be written. `error` is null, or came from `poulter_error_new` and has not been
/// freed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_planner_plan(
    planner: *const Planner,
    order: *const u8,
    len: usize,
    out: *mut *mut PlanAnswer,
    error: *mut CallError,
) -> StatusNumber {
    // SAFETY: the caller's promise about `error` is the same.
    unsafe {
        report(error, || {
            // SAFETY: null gives None; otherwise the caller lends a live planner.
            let Some(planner) = planner.as_ref() else {
                return Err(CallError::null("planner"));
            };
            not_null(order, "order")?;
            not_null(out, "out")?;
            // SAFETY: the caller's promise about the text is the same.
            let found = plan(planner, text_in(order, len)?)?;
            // SAFETY: not null, and writable by the caller's word.
            out.write(Box::into_raw(Box::new(found)));
            Ok(())
        })
    }
}

/// Frees a plan and the texts it lent. Does nothing with NULL.
///
/// # Safety
/// `plan` is null, or came from `poulter_planner_plan` and has not been freed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_plan_free(plan: *mut PlanAnswer) {
    guard((), || {
        if !plan.is_null() {
            // SAFETY: it came out of `Box::into_raw` in `poulter_planner_plan`, and is given back once.
            drop(unsafe { Box::from_raw(plan) });
        }
    });
}

/// 1 when the dinner can be had safely at the hour asked, 0 when it cannot, and for NULL.
///
/// # Safety
/// `plan` is null, or came from `poulter_planner_plan` and has not been freed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_plan_is_feasible(plan: *const PlanAnswer) -> u32 {
    guard(0, || {
        // SAFETY: null gives None; otherwise the caller lends a live plan.
        unsafe { plan.as_ref() }.map_or(0, |plan| u32::from(plan.feasible))
    })
}

/// The whole answer, the bytes that `poulter_evaluate_json` gives; it lasts until the plan is freed. Empty for NULL.
///
/// # Safety
/// `plan` is null, or came from `poulter_planner_plan` and has not been freed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_plan_json(plan: *const PlanAnswer) -> Text {
    guard(Text::EMPTY, || {
        // SAFETY: null gives None; otherwise the caller lends a live plan.
        unsafe { plan.as_ref() }.map_or(Text::EMPTY, |plan| plan.json.lend())
    })
}

/// How many steps the plan has; 0 when it is not feasible, and for NULL.
///
/// # Safety
/// `plan` is null, or came from `poulter_planner_plan` and has not been freed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_plan_step_count(plan: *const PlanAnswer) -> usize {
    guard(0, || {
        // SAFETY: null gives None; otherwise the caller lends a live plan.
        unsafe { plan.as_ref() }.map_or(0, |plan| plan.steps.len())
    })
}

/// The step at `index`, counted from 0, in the order of the sheet. `error` may be NULL.
///
/// # Safety
/// `plan` is null, or came from `poulter_planner_plan` and has not been freed. `out` is null or may be written. `error`
/// is null, or came from `poulter_error_new` and has not been freed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_plan_step(
    plan: *const PlanAnswer,
    index: usize,
    out: *mut Step,
    error: *mut CallError,
) -> StatusNumber {
    // SAFETY: the caller's promise about `error` is the same.
    unsafe {
        report(error, || {
            // SAFETY: null gives None; otherwise the caller lends a live plan.
            let Some(plan) = plan.as_ref() else {
                return Err(CallError::null("plan"));
            };
            not_null(out, "out")?;
            let step = plan.steps.get(index).ok_or_else(|| {
                let expected = format!("an index below {} is needed", plan.steps.len());
                Error::new(ErrorKind::OutOfRange, index, expected).at("index")
            })?;
            // SAFETY: not null, and writable by the caller's word.
            out.write(step.lend());
            Ok(())
        })
    }
}
