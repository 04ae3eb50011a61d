//! Masses of bird and of salt.

use crate::brine::{self, BrineMethod, BrineQuery, SaltKind};
use crate::error::{Error, ErrorKind};
use crate::purchase::{Appetite, Leftovers, PurchaseQuery, Service, purchase};
use crate::rules::Rulebook;
use crate::units::{Fraction, Mass, Volume};

use super::Subject;

impl Subject {
    /// Raw mass to buy for guests of usual appetite; a child counts as half a grown-up.
    ///
    /// Errors: no guests, more than 1000 of a sort, or neither a rule nor a measured yield for the species and cut.
    ///
    /// ```
    /// use poulter::bird::{Cut, Species};
    /// use poulter::direct::{BuiltinStandard, Subject};
    /// use poulter::purchase::Leftovers;
    /// let bird = Subject { standard: BuiltinStandard::UsConsumer, species: Species::Turkey, cut: Cut::Whole };
    /// assert_eq!(bird.purchase_mass(10, 0, Leftovers::None)?.as_pounds(), 10.0);
    /// # Ok::<(), poulter::Error>(())
    /// ```
    #[inline]
    pub fn purchase_mass(
        self,
        adults: u32,
        children: u32,
        leftovers: Leftovers,
    ) -> Result<Mass, Error> {
        let [none, some, plenty] = self.shelf().purchase;
        let rule = match leftovers {
            Leftovers::None => none,
            Leftovers::Some => some,
            Leftovers::Plenty => plenty,
        };
        let few = (1..=1000).contains(&adults) && children <= 1000;
        match rule {
            Some(each) if few => {
                let halves = i64::from(adults) * 2 + i64::from(children);
                // A ton for each of 1500 guests still fits; half a step is rounded up.
                Ok(Mass::from_steps(
                    (each.steps() * halves + 1) / 2,
                    each.unit(),
                ))
            }
            _ => self.purchase_mass_at_the_door(adults, children, leftovers),
        }
    }

    #[cold]
    pub(super) fn purchase_mass_at_the_door(
        self,
        adults: u32,
        children: u32,
        leftovers: Leftovers,
    ) -> Result<Mass, Error> {
        let query = PurchaseQuery {
            adults,
            children,
            appetite: Appetite::Usual,
            service: Service::Plated,
            second_main: false,
            leftovers,
            mass: None,
            stuffed: false,
            bought_stuffed: false,
            solution_added: Fraction::ZERO,
            standard: self.standard.name().to_owned(),
            species: self.species,
            cut: self.cut,
            on: None,
        };
        Ok(purchase(Rulebook::builtin(), &query)?.answer.buy)
    }

    /// Salt for a wet brine with this much water, by the standard's strength.
    ///
    /// Errors: no water, or no published strength.
    #[inline]
    pub fn wet_brine_salt(self, water: Volume) -> Result<Mass, Error> {
        let found = self.shelf().wet_strength.filter(|_| water > Volume::ZERO);
        match found.and_then(|rule| brine::wet_salt_of(rule, water)) {
            Some(Ok(salt)) => Ok(salt),
            _ => self.brine_salt_at_the_door(BrineMethod::Wet, None, Some(water), None),
        }
    }

    /// Salt of a kind to rub on a bird of this mass, by the standard's amount.
    ///
    /// Errors: a mass of nothing, or no published amount.
    #[inline]
    pub fn dry_brine_salt(self, mass: Mass, kind: SaltKind) -> Result<Mass, Error> {
        match self.shelf().dry_salt[kind as usize].and_then(|line| line.at(mass.steps())) {
            Some(salt) => Ok(salt),
            None => self.brine_salt_at_the_door(BrineMethod::Dry, Some(mass), None, Some(kind)),
        }
    }

    #[cold]
    pub(super) fn brine_salt_at_the_door(
        self,
        method: BrineMethod,
        mass: Option<Mass>,
        water: Option<Volume>,
        kind: Option<SaltKind>,
    ) -> Result<Mass, Error> {
        // The salt of a wet brine follows from the water alone; any mass will do.
        let mass = match mass {
            Some(mass) => mass,
            None => Mass::from_kilograms(1.0)?,
        };
        let query = BrineQuery::plain(method, mass, water, kind, self);
        let answer = brine::brine(Rulebook::builtin(), &query)?.answer;
        answer.salt.map(|salt| salt.mass).ok_or_else(|| {
            let why = answer.refusal.unwrap_or_default();
            Error::new(ErrorKind::NoPublishedRow, self.species.name(), why).at("species")
        })
    }
}
