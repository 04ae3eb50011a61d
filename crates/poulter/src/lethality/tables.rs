//! The published hold times, as printed.
//!
//! One constant a column, with its citation and how it was read. A row held for its time gives the column's
//! whole target. Times are in milliseconds so that 81.4 min and 54.4 s are whole numbers.

use schemars::JsonSchema;
use serde::Serialize;

/// How the numbers of a source were read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum ReadingStatus {
    /// Read in the source itself.
    Read,
    /// Read in a publication that repeats the source.
    Copy,
    /// Computed from numbers read.
    Derived,
    /// Recalled, not read; to be checked before anyone relies on it.
    Memory,
    /// Given by the caller.
    Caller,
}

/// Where a number comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct NumberSource {
    /// The document.
    pub document: &'static str,
    /// The table, section or column.
    pub section: &'static str,
    /// How it was read.
    pub status: ReadingStatus,
}

/// One column of a published table: whole degrees Fahrenheit without a break, shortest temperature first.
pub(crate) struct HoldColumn {
    pub(crate) citation: NumberSource,
    /// The log10 reduction each row stands for.
    pub(crate) target: f64,
    /// The temperature of the first row in °F.
    pub(crate) first_f: i64,
    /// The hold of each row in milliseconds, one row a degree.
    pub(crate) holds_ms: &'static [i64],
    /// The first temperature in °F at which the table counts the target as reached at once.
    pub(crate) instant_f: i64,
}

/// Tenths of a minute in milliseconds: 81.4 min is `min(814)`.
const fn min(tenths: i64) -> i64 {
    tenths * 6_000
}

/// Tenths of a second in milliseconds: 54.4 s is `s(544)`.
const fn s(tenths: i64) -> i64 {
    tenths * 100
}

const POULTRY: &str =
    "FSIS Cooking Guideline for Meat and Poultry Products (Revised Appendix A), December 2021";

/// Chicken, 12 % fat, 7-log10 reduction of Salmonella (the target of 9 CFR 381.150). Rows of 163 °F and above
/// are printed as under 10 s and counted as reached at once.
pub(crate) const CHICKEN_12_FAT: HoldColumn = HoldColumn {
    citation: NumberSource {
        document: POULTRY,
        section: "time-temperature table for chicken, 12 % fat column",
        status: ReadingStatus::Copy,
    },
    target: 7.0,
    first_f: 136,
    holds_ms: &[
        min(814),
        min(655),
        min(529),
        min(430), // 136-139
        min(350),
        min(287),
        min(235),
        min(193),
        min(159), // 140-144
        min(130),
        min(106),
        min(86),
        min(68),
        min(54), // 145-149
        min(42),
        min(31),
        min(23),
        min(16),
        min(11), // 150-154
        s(544),
        s(430),
        s(340),
        s(269),
        s(213), // 155-159
        s(169),
        s(133),
        s(105), // 160-162
    ],
    instant_f: 163,
};

/// Turkey, 12 % fat, 7-log10 reduction of Salmonella (the target of 9 CFR 381.150). Rows of 165 °F and above are
/// printed as under 10 s and counted as reached at once.
pub(crate) const TURKEY_12_FAT: HoldColumn = HoldColumn {
    citation: NumberSource {
        document: POULTRY,
        section: "time-temperature table for turkey, 12 % fat column",
        status: ReadingStatus::Copy,
    },
    target: 7.0,
    first_f: 136,
    holds_ms: &[
        min(708),
        min(585),
        min(485),
        min(404), // 136-139
        min(337),
        min(282),
        min(237),
        min(198),
        min(166), // 140-144
        min(138),
        min(115),
        min(94),
        min(77),
        min(62), // 145-149
        min(49),
        min(38),
        min(28),
        min(21),
        min(16), // 150-154
        min(13),
        min(10),
        s(504),
        s(409),
        s(332), // 155-159
        s(269),
        s(219),
        s(177),
        s(144),
        s(117), // 160-164
    ],
    instant_f: 165,
};

/// Meat without poultry, 6.5-log10 reduction of Salmonella (the target of 9 CFR 318.17). The 141 °F row reads 9 min
/// in the copy seen; it is recalled as 10 min elsewhere, while the line through the other rows gives 8.9 min.
pub(crate) const MEAT: HoldColumn = HoldColumn {
    citation: NumberSource {
        document: "FDA Food Code 2009, 3-401.11(B)(2), the same rows as the FSIS guidance to 9 CFR 318.17",
        section: "whole meat roasts, 6.5-log10 column",
        status: ReadingStatus::Copy,
    },
    target: 6.5,
    first_f: 130,
    holds_ms: &[
        min(1120),
        min(890),
        min(710),
        min(560),
        min(450), // 130-134
        min(360),
        min(280),
        min(230),
        min(180),
        min(150), // 135-139
        min(120),
        min(90),
        min(80),
        min(60),
        min(50), // 140-144
        min(40),
        s(1690),
        s(1340),
        s(1070),
        s(850), // 145-149
        s(670),
        s(540),
        s(430),
        s(340),
        s(270), // 150-154
        s(220),
        s(170),
        s(140), // 155-157
    ],
    instant_f: 158,
};

/// Where the longer of the chicken and turkey times at each row is named for every other bird and for mixtures.
pub(crate) const LONGER_OF_BOTH: NumberSource = NumberSource {
    document: POULTRY,
    section: "longer of the chicken and turkey times, 12 % fat columns",
    status: ReadingStatus::Copy,
};

/// 70 °C for 2 min, with z 7.5 °C.
pub(crate) const UK_70_2: NumberSource = NumberSource {
    document: "Food Standards Agency core temperature list (60 °C 45 min to 80 °C 6 s)",
    section: "70 °C for 2 min; z of 7.5 °C as recalled from the ACMSF report, and near the 7.57 °C the list itself gives",
    status: ReadingStatus::Memory,
};

/// One row of a core temperature list: whole °C and the hold.
pub(crate) const UK_ROWS: [(i64, i64); 5] = [
    (60, min(450)),
    (65, min(100)),
    (70, min(20)),
    (75, s(300)),
    (80, s(60)),
];

/// The z-value behind the UK list, in °C; status memory, see [`UK_70_2`].
pub(crate) const UK_Z: f64 = 7.5;

/// The log10 reduction of Listeria monocytogenes for which 70 °C for 2 min stands; status memory.
pub(crate) const UK_TARGET: f64 = 6.0;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_run_without_a_break_to_their_instant_row() {
        for column in [&CHICKEN_12_FAT, &TURKEY_12_FAT, &MEAT] {
            let rows = i64::try_from(column.holds_ms.len()).unwrap();
            assert_eq!(column.first_f + rows, column.instant_f);
            assert!(column.holds_ms.windows(2).all(|pair| pair[0] > pair[1]));
        }
    }

    #[test]
    fn the_meat_column_is_its_own_formula_rounded() {
        // FSIS tables follow 112 min · 10^((130 - T)/10): every seconds row within 0.9 s, minutes row within 1 min.
        for (row, &hold) in MEAT.holds_ms.iter().enumerate() {
            let formula = 112.0 * 60_000.0 * crate::math::pow(10.0, -(row as f64) / 10.0);
            let allowed = if hold < 180_000 { 900.0 } else { 60_000.0 };
            assert!((formula - hold as f64).abs() < allowed, "row {row}");
        }
    }

    #[test]
    fn extremes_printed_in_the_guideline_text_are_there() {
        // The guideline's text names 13.7 s and 26.9 s as the extremes at 160 °F; 26.9 s is turkey at 12 % fat.
        assert_eq!(TURKEY_12_FAT.holds_ms[24], 26_900);
    }
}
