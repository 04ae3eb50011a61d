//! The rules of a standard and a bird, found once.

use std::sync::OnceLock;

use crate::bird::{Cut, Species, State};
use crate::brine::{self, SaltKind};
use crate::rules::{Case, Requirement, Rulebook, TimeLimit, Topic};
use crate::thaw::ThawMethod;
use crate::units::Mass;

use super::line::{SaltLine, TimeTable};

macro_rules! standards {
    ($( $variant:ident $name:literal ),+ $(,)?) => {
        /// A standard that comes with the library.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum BuiltinStandard {
            $( #[doc = concat!("`", $name, "`")] $variant, )+
        }

        impl BuiltinStandard {
            /// Every one, in the order of the book.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// The name in requests.
            #[must_use]
            pub const fn name(self) -> &'static str {
                match self { $( Self::$variant => $name, )+ }
            }
        }
    };
}

standards! {
    UsConsumer "us-consumer",
    UsFoodCode2022 "us-food-code-2022",
    UsProcessor "us-processor",
    Uk "uk",
    Scotland "scotland",
    Canada "canada",
    Australia "australia",
    NewZealand "new-zealand",
    KitchenPractice "kitchen-practice",
}

/// A bird under a standard: what direct calls are about.
///
/// ```
/// use poulter::bird::{Cut, Species};
/// use poulter::direct::{BuiltinStandard, Subject};
/// use poulter::thaw::ThawMethod;
/// use poulter::units::Mass;
/// let bird = Subject { standard: BuiltinStandard::UsConsumer, species: Species::Turkey, cut: Cut::Whole };
/// let time = bird.thaw_time(ThawMethod::Refrigerator, Mass::parse("15 lb")?)?;
/// assert_eq!(time.shown(), "3 d to 4 d");
/// # Ok::<(), poulter::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Subject {
    /// The standard.
    pub standard: BuiltinStandard,
    /// The species.
    pub species: Species,
    /// The cut.
    pub cut: Cut,
}

/// What the direct calls need of the rules for one subject; nothing stands where the door has to answer.
#[derive(Debug)]
pub(super) struct Shelf {
    pub(super) refrigerator: Option<TimeTable>,
    pub(super) cold_water: Option<TimeTable>,
    /// The limit on the time in running water, where the rate of cold water stands in for it.
    pub(super) running_water: Option<TimeLimit>,
    pub(super) unstuffed: Option<TimeTable>,
    pub(super) stuffed: Option<TimeTable>,
    pub(super) minimum: Option<&'static Requirement>,
    pub(super) minimum_stuffing: Option<&'static Requirement>,
    pub(super) wet_strength: Option<&'static Requirement>,
    /// By the kind of salt.
    pub(super) dry_salt: [Option<SaltLine>; SaltKind::ALL.len()],
    /// For a grown-up, by what is to be left over: none, some, plenty.
    pub(super) purchase: [Option<Mass>; 3],
}

const SPECIES: usize = Species::ALL.len();
const CUTS: usize = Cut::ALL.len();
const SUBJECTS: usize = BuiltinStandard::ALL.len() * SPECIES * CUTS;

static SHELVES: [OnceLock<Shelf>; SUBJECTS] = [const { OnceLock::new() }; SUBJECTS];

impl Subject {
    pub(super) fn shelf(self) -> &'static Shelf {
        let place = (self.standard as usize * SPECIES + self.species as usize) * CUTS;
        // The three enums are as long as the array has places, so the index always fits.
        SHELVES[place + self.cut as usize].get_or_init(|| Shelf::of(self))
    }

    pub(super) fn case(self) -> Case<'static> {
        Case {
            standard: self.standard.name(),
            species: self.species,
            cut: self.cut,
            state: None,
            process: None,
            on: None,
        }
    }

    pub(super) const fn doneness(self) -> Topic {
        match self.cut {
            Cut::Whole | Cut::Flattened => Topic::DonenessBird,
            Cut::Ground => Topic::DonenessGround,
            _ => Topic::DonenessParts,
        }
    }
}

impl Shelf {
    fn of(subject: Subject) -> Self {
        let book = Rulebook::builtin();
        let case = subject.case();
        let find = |topic| book.find(topic, &case).map(|rule| &rule.requirement);
        let frozen = Case {
            state: Some(State::Frozen),
            ..case
        };
        let thaw = |method: ThawMethod| {
            let rule = book.find(method.topic(), &frozen)?;
            Some(&rule.requirement)
        };
        let running_water = match thaw(ThawMethod::RunningWater) {
            Some(Requirement::Time { limit, .. }) => Some(*limit),
            _ => None,
        };
        let per_person = |topic| {
            let mut rules = book.chain(topic, &case).into_iter();
            rules.find_map(|rule| match rule.requirement {
                Requirement::MassPerPerson { high, .. } => Some(high),
                _ => None,
            })
        };
        let dry = find(Topic::BrineDryAmount);
        Self {
            refrigerator: thaw(ThawMethod::Refrigerator).and_then(TimeTable::of),
            cold_water: thaw(ThawMethod::ColdWater).and_then(TimeTable::of),
            running_water,
            unstuffed: find(Topic::RoastTimeUnstuffed).and_then(TimeTable::of),
            stuffed: find(Topic::RoastTimeStuffed).and_then(TimeTable::of),
            minimum: find(subject.doneness()),
            minimum_stuffing: find(Topic::DonenessStuffing),
            wet_strength: find(Topic::BrineWetStrength),
            dry_salt: std::array::from_fn(|kind| {
                let rate = brine::dry_rate(dry?, SaltKind::ALL[kind], subject.cut)?;
                Some(SaltLine::new(rate))
            }),
            purchase: [
                Topic::PurchaseMass,
                Topic::PurchaseMassSomeLeft,
                Topic::PurchaseMassPlentyLeft,
            ]
            .map(per_person),
        }
    }
}
