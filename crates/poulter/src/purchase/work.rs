//! The arithmetic of a purchase.

use crate::answer::{Basis, Finding, TimeEstimate};
use crate::bird::{Cut, Species};
use crate::error::{Error, ErrorKind};
use crate::roast::table_of;
use crate::rules::{Case, Requirement, Rule, Topic};
use crate::units::{Fraction, Mass, MassUnit, UnitSystem};

use super::{Leftovers, OnThePlate, Purchase, PurchaseQuery, Service, cooked_yield};

/// Most guests of each sort.
const MOST_GUESTS: u32 = 1000;

/// Solution that no label reaches; labels run from 3 % to 15 % (FSIS rule of 31 December 2014, 79 FR 79043; survey).
const MOST_SOLUTION: Fraction =
    Fraction::from_steps(500_000_000, crate::units::FractionUnit::Percent);

/// 7½ oz of cooked meat without skin: what 1 lb of whole raw turkey gives (0.472 × 16 oz, USDA SR26), so what the rule of
/// 1 lb for a person means.
const FEAST_PORTION: Mass = Mass::from_steps(212_621_423_438, MassUnit::Ounce);

/// The serving of the US food guide, 3 oz cooked (USDA SR26, household weights).
const SERVING: Mass = Mass::from_steps(85_048_569_375, MassUnit::Ounce);

/// Steps in an ounce.
const OUNCE: i64 = 28_349_523_125;

/// Extra for leftovers on the yield side, in hundredths: the same steps as the rule of 1, 1½ and 2 lb.
const fn with_leftovers(leftovers: Leftovers) -> i64 {
    match leftovers {
        Leftovers::None => 100,
        Leftovers::Some => 150,
        Leftovers::Plenty => 200,
    }
}

/// A purchase inside a larger answer.
pub(crate) fn work_out(basis: &mut Basis<'_>, query: &PurchaseQuery) -> Result<Purchase, Error> {
    check(query)?;
    // Half persons, so that a child stays a whole number.
    let halves = i64::from(query.adults) * 2 + i64::from(query.children);
    if query.children > 0 {
        basis.assume("A child eats half as much as a grown-up (common practice).");
    }
    let (above, below) = (halves * query.appetite.fourths(), 8);
    let mut rules = Vec::new();
    let mut findings = Vec::new();
    let by_rule = by_rule(basis, query, &mut rules).map(|(low, high)| {
        (
            low.times_ratio(above, below),
            high.times_ratio(above, below),
        )
    });
    let shares = shares_of_the_table(basis, query, &mut rules)?;
    let by_rule = by_rule.map(|(low, high)| {
        let factors = shares.iter();
        factors.fold((low, high), |(low, high), &(least, most)| {
            (share(low, least), share(high, most))
        })
    });
    let measured = cooked_yield(
        basis,
        query.species,
        query.cut,
        query.solution_added > Fraction::ZERO,
    );
    let by_yield = measured.as_ref().map(|yields| {
        let raw = FEAST_PORTION
            .times_ratio(above * with_leftovers(query.leftovers), below * 100)
            .times_ratio(1_000_000_000, yields.meat.steps());
        let raw = shares.iter().fold(raw, |raw, &(_, most)| share(raw, most));
        // Up to the whole ounce: the yield is no finer, and a shop's label seldom is.
        Mass::from_steps((raw.steps() + OUNCE - 1) / OUNCE * OUNCE, MassUnit::Pound)
    });
    let needed = needed(basis, query, by_rule, by_yield, &mut findings)?;
    let buy = query.mass.unwrap_or(needed);
    if let Some(mass) = query.mass.filter(|_| halves > 0) {
        findings.push(enough(basis.units, mass, needed));
    }
    let (birds, each, why) = birds(basis, query, buy, &mut rules);
    let on_the_plate = measured.map(|shares| {
        let with_skin = share(buy, shares.with_skin);
        OnThePlate {
            meat: share(buy, shares.meat),
            with_skin,
            servings: u32::try_from(with_skin.steps() / SERVING.steps()).unwrap_or(u32::MAX),
            for_each: (halves > 0).then(|| with_skin.times_ratio(2, halves)),
            raw_mass_is: shares.of.to_owned(),
            source: shares.source,
        }
    });
    let mut value = Purchase {
        buy,
        by_rule_low: by_rule.map(|(low, _)| low),
        by_rule_high: by_rule.map(|(_, high)| high),
        by_yield: by_yield.filter(|_| halves > 0),
        birds,
        each,
        why,
        on_the_plate,
        buy_fresh_before: None,
        findings,
        to_do: Vec::new(),
        rules,
    };
    when_to_buy(basis, &mut value);
    if query.bought_stuffed || query.stuffed {
        for rule in basis.every(Topic::PurchaseStuffedBird) {
            basis.note(rule);
            value.rules.push(rule.id.clone());
            value.to_do.extend(rule.said());
        }
    }
    for rule in basis.every(Topic::StorageSenses) {
        basis.note(rule);
        value.rules.push(rule.id.clone());
        value.to_do.extend(rule.said());
    }
    Ok(value)
}

fn check(query: &PurchaseQuery) -> Result<(), Error> {
    for (guests, field) in [(query.adults, "adults"), (query.children, "children")] {
        if guests > MOST_GUESTS {
            let expected = format!("from 0 to {MOST_GUESTS} guests are needed");
            return Err(Error::new(ErrorKind::OutOfRange, guests, expected).at(field));
        }
    }
    if query.adults + query.children == 0 && query.mass.is_none() {
        let expected = "at least one guest, or the mass of a bird, is needed";
        return Err(Error::new(ErrorKind::MissingField, "", expected).at("adults"));
    }
    if query.mass.is_some_and(|mass| mass == Mass::ZERO) {
        return Err(Error::new(
            ErrorKind::OutOfRange,
            Mass::ZERO,
            "a mass above 0 is needed",
        )
        .at("mass"));
    }
    if query.solution_added >= MOST_SOLUTION {
        let expected = "less than 50 % of added solution is needed; labels run from 3 % to 15 %";
        return Err(
            Error::new(ErrorKind::OutOfRange, query.solution_added, expected).at("solution_added"),
        );
    }
    Ok(())
}

/// What a buffet adds and a second main takes away: the smaller and the larger share of the amount for a single main
/// that is served on plates.
fn shares_of_the_table(
    basis: &mut Basis<'_>,
    query: &PurchaseQuery,
    rules: &mut Vec<String>,
) -> Result<Vec<(Fraction, Fraction)>, Error> {
    let asked = [
        (query.service == Service::Buffet, Topic::PurchaseBuffet),
        (query.second_main, Topic::PurchaseSecondMain),
    ];
    let topics = asked.into_iter().filter(|(wanted, _)| *wanted);
    topics
        .map(|(_, topic)| {
            let rule = basis.require(topic)?;
            rules.push(rule.id.clone());
            match rule.requirement {
                Requirement::Share { low, high } => Ok((low, high)),
                _ => Err(Error::new(
                    ErrorKind::NoPublishedRow,
                    &rule.id,
                    "the rule names no share",
                )),
            }
        })
        .collect()
}

/// Raw mass for one grown-up by the standard.
fn by_rule(
    basis: &mut Basis<'_>,
    query: &PurchaseQuery,
    rules: &mut Vec<String>,
) -> Option<(Mass, Mass)> {
    let leftovers = match query.leftovers {
        Leftovers::None => Topic::PurchaseMass,
        Leftovers::Some => Topic::PurchaseMassSomeLeft,
        Leftovers::Plenty => Topic::PurchaseMassPlentyLeft,
    };
    let topics = if query.bought_stuffed {
        [Topic::PurchaseStuffedBird, leftovers]
    } else {
        [leftovers, leftovers]
    };
    for topic in topics {
        for rule in basis.every(topic) {
            if let Requirement::MassPerPerson { low, high } = rule.requirement {
                basis.note(rule);
                rules.push(rule.id.clone());
                if topic == Topic::PurchaseStuffedBird && query.leftovers != Leftovers::None {
                    basis.caution("The rule for a bird sold stuffed counts nothing left over.");
                }
                return Some((low, high));
            }
        }
    }
    None
}

fn needed(
    basis: &mut Basis<'_>,
    query: &PurchaseQuery,
    by_rule: Option<(Mass, Mass)>,
    by_yield: Option<Mass>,
    findings: &mut Vec<Finding>,
) -> Result<Mass, Error> {
    let solution = query.solution_added > Fraction::ZERO;
    match (by_rule, by_yield) {
        (Some((_, high)), Some(measured)) if solution && measured > high => {
            let text = format!(
                "A bird with {} of added solution gives less meat: {} by its yield, against {} by the rule. The \
                 larger amount is taken.",
                query.solution_added,
                basis.units.mass(measured),
                basis.units.mass(high)
            );
            findings.push(Finding::advice(text, None));
            Ok(measured)
        }
        (Some((_, high)), Some(measured)) => {
            // Within a tenth the two agree; the rule itself is a round number.
            if measured > high.times_ratio(11, 10) {
                let text = format!(
                    "The rule's {} gives less than a feast portion of meat; by its yield {} would. Plan more side \
                     dishes or buy more.",
                    basis.units.mass(high),
                    basis.units.mass(measured)
                );
                findings.push(Finding::advice(text, None));
            }
            Ok(high)
        }
        (Some((_, high)), None) => Ok(high),
        (None, Some(measured)) => {
            basis.assume("No rule for a person is published for this case; the measured yield and a feast portion of cooked meat stand in.");
            Ok(measured)
        }
        (None, None) => match query.mass {
            Some(mass) => Ok(mass),
            None => Err(Error::new(
                ErrorKind::NoPublishedRow,
                format!("{}, {}", query.species.name(), query.cut.name()),
                "neither a mass for a person nor a measured yield is published for it",
            )
            .at("species")),
        },
    }
}

fn enough(units: UnitSystem, mass: Mass, needed: Mass) -> Finding {
    let text = if mass >= needed {
        format!(
            "{} is enough; {} is needed.",
            units.mass(mass),
            units.mass(needed)
        )
    } else {
        format!(
            "{} is short by {}; {} is needed.",
            units.mass(mass),
            units.mass(needed.minus(mass)),
            units.mass(needed)
        )
    };
    Finding::advice(text, None)
}

/// Number of birds, mass of each, and why. The end of the roasting table sets the largest bird.
fn birds(
    basis: &mut Basis<'_>,
    query: &PurchaseQuery,
    buy: Mass,
    rules: &mut Vec<String>,
) -> (u32, Mass, String) {
    let small_hen = query.species == Species::SmallHen && query.cut == Cut::Whole;
    let largest = if small_hen {
        LARGEST_SMALL_HEN
    } else if let Some((rule, largest)) = largest_roast(basis, query) {
        basis.note(rule);
        rules.push(rule.id.clone());
        largest
    } else {
        let why = "No roasting table that ends is published for this case.";
        return (1, buy, why.to_owned());
    };
    let people = i64::from(query.adults) + i64::from(query.children);
    let by_mass = (buy.steps() + largest.steps() - 1) / largest.steps();
    let birds = if small_hen {
        by_mass.max(people).max(1)
    } else {
        by_mass.max(1)
    };
    let each = buy.times_ratio(1, birds);
    let why = if small_hen {
        format!(
            "One small hen to a person, none above {}.",
            basis.units.mass(largest)
        )
    } else if birds == 1 {
        format!(
            "One of {} is inside the roasting table, which ends at {}.",
            basis.units.mass(buy),
            basis.units.mass(largest)
        )
    } else {
        format!(
            "No roasting time is published above {}: {birds} of {} each roast by the table, and more evenly than one \
             of {}.",
            basis.units.mass(largest),
            basis.units.mass(each),
            basis.units.mass(buy)
        )
    };
    (u32::try_from(birds).unwrap_or(u32::MAX), each, why)
}

/// The end of the standard's roasting table, or else of the first other standard's that has one. A standard that prints
/// times without an end knows no largest bird.
fn largest_roast<'b>(basis: &mut Basis<'b>, query: &PurchaseQuery) -> Option<(&'b Rule, Mass)> {
    let topic = table_of(query.stuffed || query.bought_stuffed);
    let mut own = basis.every(topic);
    own.retain(|rule| reach(rule).is_some());
    if let Some(first) = own.first().copied() {
        // A table of the caller's stands in for the standard's, not beside it.
        own.retain(|rule| {
            (rule.standard(), rule.added_by_caller) == (first.standard(), first.added_by_caller)
        });
        return last_end(&own);
    }
    let (book, case) = (basis.book, basis.case);
    let (rule, end) = book.standards().iter().find_map(|other| {
        let case = Case {
            standard: &other.id,
            ..case
        };
        last_end(&book.chain(topic, &case))
    })?;
    basis.assume(format!(
        "{} prints no roasting times for {}; the largest that {} has one for ({}) sets how many to buy.",
        case.standard,
        query.species.name(),
        rule.standard(),
        rule.id
    ));
    Some((rule, end))
}

/// How far the rows of a rule go.
enum Reach {
    To(Mass),
    Endless,
}

/// The last end of the rows of all rules; nothing where there are none, or where some have no end.
fn last_end<'b>(rules: &[&'b Rule]) -> Option<(&'b Rule, Mass)> {
    let rows = rules.iter().filter_map(|rule| Some((*rule, reach(rule)?)));
    let ends: Option<Vec<_>> = rows
        .map(|(rule, reach)| match reach {
            Reach::To(end) => Some((rule, end)),
            Reach::Endless => None,
        })
        .collect();
    ends?.into_iter().max_by_key(|(_, end)| *end)
}

/// How far a rule's roasting times by mass go; nothing where it has none.
fn reach(rule: &Rule) -> Option<Reach> {
    let end = match &rule.requirement {
        Requirement::TimeByMass { rows, .. } => rows.iter().map(|row| row.to).max(),
        Requirement::TimePerMass { to, .. } => *to,
        _ => return None,
    };
    Some(end.map_or(Reach::Endless, Reach::To))
}

/// A game hen weighs at most 2 lb ready to cook (9 CFR 381.170, as summarised by Auburn University).
const LARGEST_SMALL_HEN: Mass = Mass::from_steps(907_184_740_000, MassUnit::Pound);

fn when_to_buy(basis: &mut Basis<'_>, value: &mut Purchase) {
    let Some(rule) = basis.find(Topic::PurchaseFreshWindow) else {
        return;
    };
    value.rules.push(rule.id.clone());
    match &rule.requirement {
        Requirement::TimeRange { low, high, .. } | Requirement::Keep { low, high, .. } => {
            value.buy_fresh_before = Some(TimeEstimate {
                low: *low,
                likely: *low,
                high: *high,
            });
        }
        Requirement::Time { limit, .. } => {
            value.buy_fresh_before = Some(TimeEstimate::exactly(limit.duration));
        }
        _ => {}
    }
    value.to_do.extend(rule.said());
}

fn share(mass: Mass, share: Fraction) -> Mass {
    mass.times_ratio(share.steps(), 1_000_000_000)
}
