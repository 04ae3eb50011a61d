//! Numbers of a plan for the formulas of a spreadsheet: limits, the roast table, and what scales with guests or bones.

use poulter::bird::Cut;
use poulter::plan::{Moment, Step};
use poulter::roast::{Oven, RoastQuery, roast_time};
use poulter::rules::{Comparison, Requirement, Stage, TemperatureLimit};
use poulter::thaw::ThawMethod;
use poulter::units::{Mass, TemperatureUnit, UnitSystem, Volume};

use crate::degrees;
use crate::sheet::Job;

/// A mass in the unit of a sheet: pounds or kilograms.
pub(crate) fn large(mass: Mass, units: UnitSystem) -> f64 {
    match units {
        UnitSystem::UsCustomary => mass.as_pounds(),
        UnitSystem::Metric => mass.as_kilograms(),
    }
}

pub(crate) const fn large_unit(units: UnitSystem) -> &'static str {
    match units {
        UnitSystem::UsCustomary => "lb",
        UnitSystem::Metric => "kg",
    }
}

/// A small mass: ounces or grams.
pub(crate) fn small(mass: Mass, units: UnitSystem) -> f64 {
    match units {
        UnitSystem::UsCustomary => mass.as_ounces(),
        UnitSystem::Metric => mass.as_grams(),
    }
}

pub(crate) const fn small_unit(units: UnitSystem) -> &'static str {
    match units {
        UnitSystem::UsCustomary => "oz",
        UnitSystem::Metric => "g",
    }
}

/// A volume: cups or litres.
pub(crate) fn volume(volume: Volume, units: UnitSystem) -> f64 {
    match units {
        UnitSystem::UsCustomary => volume.as_cups(),
        UnitSystem::Metric => volume.as_litres(),
    }
}

pub(crate) const fn volume_unit(units: UnitSystem) -> &'static str {
    match units {
        UnitSystem::UsCustomary => "cups",
        UnitSystem::Metric => "L",
    }
}

/// A verdict on the reading in a cell, in whole numbers as the core compares: ninths of a thousandth of a kelvin, so
/// that neither rounding nor the unit of the sheet moves the line.
pub(crate) fn verdict(
    cell: &str,
    limit: &TemperatureLimit,
    units: UnitSystem,
    words: [&str; 3],
) -> String {
    let exact = limit.temperature.exact().ninths_of_millikelvin();
    let reading = match degrees::unit(units) {
        TemperatureUnit::Celsius => format!("9*(ROUND({cell}*1000,0)+273150)"),
        _ => format!("5*(ROUND({cell}*1000,0)+459670)"),
    };
    let sign = match limit.is {
        Comparison::Below => "<",
        Comparison::AtMost => "<=",
        Comparison::AtLeast => ">=",
        Comparison::Above => ">",
    };
    let [meets, fails, cannot_tell] = words;
    format!(
        "=IF(ISNUMBER({cell}),IF({reading}{sign}{exact},\"{meets}\",\"{fails}\"),\"{cannot_tell}\")"
    )
}

/// A row of the roast table as this kitchen uses it.
pub(crate) struct RoastRow {
    pub(crate) from: Mass,
    pub(crate) to: Mass,
    pub(crate) low_h: f64,
    pub(crate) high_h: f64,
}

/// The roast table with what fan, altitude and method do to it; empty where the standard prints no table by mass.
pub(crate) fn roast_table(job: &Job<'_>) -> Vec<RoastRow> {
    let plan = &job.plan.answer;
    let Some(step) = roast_step(job) else {
        return Vec::new();
    };
    let rows = step
        .rules
        .iter()
        .find_map(|id| match &job.book.rule(id).ok()?.requirement {
            Requirement::TimeByMass { rows, .. } => Some(rows),
            _ => None,
        });
    let rows = rows.map_or(&[][..], Vec::as_slice);
    rows.iter()
        .filter_map(|row| {
            let query = roast_query(job, row.from)?;
            let time = roast_time(job.book, &query).ok()?.answer.time?;
            Some(RoastRow {
                from: row.from,
                to: row.to,
                low_h: time.low.as_hours(),
                high_h: time.high.as_hours(),
            })
        })
        .filter(|_| plan.bird.cut == Cut::Whole || plan.birds.is_empty())
        .collect()
}

/// The question that the plan asked for its roast, for another mass.
fn roast_query(job: &Job<'_>, mass: Mass) -> Option<RoastQuery> {
    let plan = &job.plan.answer;
    let chain = plan.chains.iter().find(|chain| chain.kept)?;
    let kitchen = &job.order.kitchen;
    let oven = kitchen.ovens.first().map_or(kitchen.oven, |first| Oven {
        offset: first.offset,
        fan: first.fan,
    });
    Some(RoastQuery {
        mass,
        stuffed: plan.bird.stuffed,
        method: chain.roast,
        from_frozen: chain.thaw == Some(ThawMethod::FromFrozen),
        oven,
        altitude: kitchen.altitude,
        standard: plan.standard.clone(),
        species: plan.bird.species,
        cut: plan.bird.cut,
        on: Some(plan.serve_at.zoned().date()),
    })
}

fn roast_step<'j>(job: &Job<'j>) -> Option<&'j Step> {
    let steps = &job.plan.answer.steps;
    steps.iter().find(|step| step.stage == Stage::Roast)
}

/// Minutes from the slow end of the roast to the table, and when the bird goes in at the latest.
pub(crate) fn after_oven(job: &Job<'_>) -> Option<(f64, Moment)> {
    let step = roast_step(job)?;
    let out = step.window.latest.after(step.duration.high);
    let rest = job.plan.answer.serve_at.since(&out);
    Some((rest.as_minutes(), step.window.latest.clone()))
}
