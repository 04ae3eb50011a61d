//! How long thaw and roast of a combination take, by the printed row and beside it the model.

use crate::answer::{Basis, TimeEstimate};
use crate::bird::State;
use crate::error::ErrorKind;
use crate::messages::{fill, say};
use crate::roast::{self, RoastMethod, RoastQuery, RoastTime};
use crate::rules::Rule;
use crate::thaw::{self, ThawMethod, ThawTime};
use crate::units::Duration;

use super::chain::{Fallen, fallen};
use super::combination::Combination;
use super::model::{self, ModelTime};
use super::setup::Setup;

/// The quick end of refrigerator thawing against the table's line of 24 h for each 4 lb: the source's own words are
/// "24 h for each 4 to 5 lb", so four fifths (USDA FSIS, *Turkey Basics: Safe Thawing*; derived).
const QUICK_THAW: (i64, i64) = (4, 5);

pub(super) fn thaw_of(
    basis: &mut Basis<'_>,
    setup: &Setup<'_>,
    combination: Combination,
) -> Result<(Option<ThawTime>, TimeEstimate, Option<ModelTime>), Fallen> {
    let Some(method) = combination.thaw else {
        return Ok((None, TimeEstimate::exactly(Duration::ZERO), None));
    };
    if method == ThawMethod::Refrigerator && !setup.refrigerator_is_cold {
        return Err(Fallen::because(say("out-warm-for-thaw")));
    }
    if method == ThawMethod::FromFrozen && combination.roast == RoastMethod::HighStart {
        return Err(Fallen::because(say("out-hot-start-frozen")));
    }
    let model = model::thaw_time(setup, method);
    let thaw = thaw::work_out_or(basis, method, setup.mass, model).map_err(fallen)?;
    if let Some(refusal) = &thaw.refusal {
        return Err(Fallen::because(refusal.clone()));
    }
    let Some(printed) = thaw.time else {
        return Err(Fallen::because(say("out-makers-table")));
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
    let icy = combination.state == State::PartFrozen || setup.standing.switches(combination);
    if icy && method != ThawMethod::FromFrozen {
        time.low = Duration::ZERO;
        time.likely = time.likely.times_ratio(1, 2);
        basis.assume(say("assume-part-frozen"));
    }
    Ok((Some(thaw), time, model))
}

/// The roast of a combination as a question to the table.
pub(super) fn roast_query(setup: &Setup<'_>, combination: Combination) -> RoastQuery {
    RoastQuery {
        mass: setup.mass,
        stuffed: setup.stuffed,
        method: combination.roast,
        from_frozen: combination.thaw == Some(ThawMethod::FromFrozen),
        oven: setup.oven,
        altitude: setup.order.kitchen.altitude,
        standard: setup.order.standard.clone(),
        species: setup.species,
        cut: setup.cut,
        on: setup.case(None).on,
    }
}

pub(super) fn roast_of<'b>(
    basis: &mut Basis<'b>,
    setup: &Setup<'b>,
    combination: Combination,
) -> Result<(RoastTime, TimeEstimate, Option<ModelTime>), Fallen> {
    let query = roast_query(setup, combination);
    let roast = match roast::work_out(basis, &query) {
        Err(error) if error.kind() == ErrorKind::NoPublishedRow => {
            match without_own_row(basis, setup, &query) {
                Some(Ok((roast, time))) => {
                    return Ok((roast, time, Some(ModelTime::beside(time, None))));
                }
                Some(Err(table)) => roast::by_table(basis, &query, table).map_err(fallen)?,
                None => return Err(fallen(error)),
            }
        }
        roast => roast.map_err(fallen)?,
    };
    match (&roast.refusal, roast.time) {
        (Some(refusal), _) => Err(Fallen::because(refusal.clone())),
        (None, Some(printed)) => {
            let mut time = printed;
            if let Some(seen) = model::forecast(setup, &query, &roast.oven) {
                let model = ModelTime::beside(seen, Some(printed));
                time.low = time.low.min(seen.low);
                time.likely = seen.likely.max(time.low);
                time.high = time.high.max(seen.high).max(time.likely);
                return Ok((roast, time, Some(model)));
            }
            let model = model::roast_time(setup, &query, &roast.oven)
                .map(|model| ModelTime::beside(model, Some(printed)));
            if let Some(model) = model {
                time.low = time.low.min(model.time.low);
                time.high = time.high.max(model.time.high);
            }
            Ok((roast, time, model))
        }
        (None, None) => Err(Fallen::because(say("out-no-time"))),
    }
}

/// What stands in for a row that the standard does not print: the model's time, or else another standard's table.
///
/// Only the time is another's. What the bird must reach, and all that comes before and after, stays the standard's own.
fn without_own_row<'b>(
    basis: &mut Basis<'b>,
    setup: &Setup<'b>,
    query: &RoastQuery,
) -> Option<Result<(RoastTime, TimeEstimate), &'b Rule>> {
    if !query.from_frozen {
        let roast = roast::without_row(basis, query);
        if let Some(time) = model::roast_time_alone(setup, query, &roast.oven) {
            return Some(Ok((roast, time)));
        }
    }
    let table = roast::table_elsewhere(setup.book, &basis.case, setup.stuffed, setup.mass)?;
    basis.assume(fill(
        "assume-other-table",
        &[
            ("own", &setup.order.standard),
            ("species", &setup.species.name()),
            ("standard", &table.standard()),
            ("rule", &table.id),
        ],
    ));
    Some(Err(table))
}
