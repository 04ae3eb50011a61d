//! What raw poultry is made of.

use crate::error::{Error, ErrorKind};
use crate::units::{ExactTemperature, Fraction, FractionUnit, Temperature, TemperatureUnit};

/// Mass shares of water, protein, fat, carbohydrate, fibre and ash, with the temperature at which freezing begins.
///
/// The shares are kept as the table prints them. They need not add up to one: the mixing rules divide by the sum.
///
/// ```
/// use poulter::bird::Composition;
/// let turkey = Composition::TURKEY;
/// assert_eq!(turkey.water().as_percent(), 70.4);
/// assert_eq!(turkey.freezing_point().as_celsius(), -2.8);
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Composition {
    water: Fraction,
    protein: Fraction,
    fat: Fraction,
    carbohydrate: Fraction,
    fibre: Fraction,
    ash: Fraction,
    freezing_point: Temperature,
}

const fn share(per_million: i64) -> Fraction {
    Fraction::from_steps(per_million * 1000, FractionUnit::Percent)
}

const fn celsius(thousandths: i64) -> Temperature {
    Temperature::from_exact(
        ExactTemperature::from_millicelsius(thousandths),
        TemperatureUnit::Celsius,
    )
}

impl Composition {
    /// Turkey, whole, meat and skin, raw (composition table of the ASHRAE Handbook, Refrigeration, thermal
    /// properties of foods, after USDA data; figures from memory). Freezing begins at −2.8 °C, the value a
    /// published heat-transfer textbook solution uses; another source gives −2.2 °C.
    pub const TURKEY: Self = Self {
        water: share(704_000),
        protein: share(204_200),
        fat: share(80_200),
        carbohydrate: share(0),
        fibre: share(0),
        ash: share(8_800),
        freezing_point: celsius(-2_800),
    };

    /// Chicken, whole, meat and skin, raw (same table as [`Composition::TURKEY`]; figures from memory).
    pub const CHICKEN: Self = Self {
        water: share(659_900),
        protein: share(186_000),
        fat: share(150_600),
        carbohydrate: share(0),
        fibre: share(0),
        ash: share(7_900),
        freezing_point: celsius(-2_800),
    };

    /// Poultry stock, and gravy or brine as far as heat is concerned: water with 2 % protein and 1 % ash.
    ///
    /// An assumption of this library, near enough to water that the exact shares hardly matter. Freezing begins at
    /// −0.6 °C by the estimate of Pham 1996, `−4.66 x_o/x_w − 46.4 x_a/x_w`.
    pub const STOCK: Self = Self {
        water: share(970_000),
        protein: share(20_000),
        fat: share(0),
        carbohydrate: share(0),
        fibre: share(0),
        ash: share(10_000),
        freezing_point: celsius(-600),
    };

    /// A composition from a label or an analysis.
    ///
    /// The shares of water, protein, fat, carbohydrate, fibre and ash come in that order. Freezing must begin
    /// below 0 °C and not below −10 °C.
    ///
    /// # Errors
    /// `out-of-range` when the shares add up to less than 95 % or more than 105 %, or when the freezing point lies
    /// outside its range.
    ///
    /// ```
    /// use poulter::bird::Composition;
    /// use poulter::units::{Fraction, Temperature};
    /// let none = Fraction::ZERO;
    /// let [water, protein, ash] = ["75 %", "23 %", "1 %"].map(|text| Fraction::parse(text).unwrap());
    /// let lean = Composition::new([water, protein, none, none, none, ash], Temperature::parse("-1.7 °C")?)?;
    /// assert_eq!(lean.protein().as_percent(), 23.0);
    /// assert!(Composition::new([water, none, none, none, none, none], Temperature::parse("-1.7 °C")?).is_err());
    /// # Ok::<(), poulter::Error>(())
    /// ```
    pub fn new(shares: [Fraction; 6], freezing_point: Temperature) -> Result<Self, Error> {
        let [water, protein, fat, carbohydrate, fibre, ash] = shares;
        let sum = shares.into_iter().fold(Fraction::ZERO, Fraction::plus);
        if sum < share(950_000) || sum > share(1_050_000) {
            return Err(Error::new(
                ErrorKind::OutOfRange,
                sum,
                "shares that add up to 95 % to 105 % are needed",
            )
            .at("composition"));
        }
        if freezing_point >= celsius(0) || freezing_point < celsius(-10_000) {
            return Err(Error::new(
                ErrorKind::OutOfRange,
                freezing_point,
                "a freezing point from -10 °C to just below 0 °C is needed",
            )
            .at("freezing_point"));
        }
        Ok(Self {
            water,
            protein,
            fat,
            carbohydrate,
            fibre,
            ash,
            freezing_point,
        })
    }

    /// Share of water, frozen or not.
    #[must_use]
    pub const fn water(&self) -> Fraction {
        self.water
    }

    /// Share of protein.
    #[must_use]
    pub const fn protein(&self) -> Fraction {
        self.protein
    }

    /// Share of fat.
    #[must_use]
    pub const fn fat(&self) -> Fraction {
        self.fat
    }

    /// Share of carbohydrate without fibre.
    #[must_use]
    pub const fn carbohydrate(&self) -> Fraction {
        self.carbohydrate
    }

    /// Share of fibre.
    #[must_use]
    pub const fn fibre(&self) -> Fraction {
        self.fibre
    }

    /// Share of ash.
    #[must_use]
    pub const fn ash(&self) -> Fraction {
        self.ash
    }

    /// The temperature at which freezing begins.
    #[must_use]
    pub const fn freezing_point(&self) -> Temperature {
        self.freezing_point
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shares(water: &str) -> [Fraction; 6] {
        let none = Fraction::ZERO;
        let water = Fraction::parse(water).unwrap();
        [water, none, none, none, none, none]
    }

    #[test]
    fn the_sum_is_tested_under_at_and_over() {
        let freezing = celsius(-1_700);
        for (water, fine) in [
            ("94.9999 %", false),
            ("95 %", true),
            ("95.0001 %", true),
            ("104.9999 %", true),
            ("105 %", true),
            ("105.0001 %", false),
        ] {
            assert_eq!(
                Composition::new(shares(water), freezing).is_ok(),
                fine,
                "{water}"
            );
        }
    }

    #[test]
    fn the_freezing_point_is_tested_under_at_and_over() {
        for (thousandths, fine) in [
            (-10_001, false),
            (-10_000, true),
            (-9_999, true),
            (-1, true),
            (0, false),
            (1, false),
        ] {
            let made = Composition::new(shares("99 %"), celsius(thousandths));
            assert_eq!(made.is_ok(), fine, "{thousandths}");
        }
    }
}
