//! Readings that are not what they seem: a probe on bone or out of the bird, a door that opens, an oven that is off.

use std::collections::VecDeque;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::Error;
use crate::units::{Duration, Temperature};

use super::curve::{Stretch, Zone, to_duration};
use super::ensemble::{EVERY_S, PlaceRuns};

/// Where a probe is.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum ProbePlace {
    /// Middle of the thickest part of the breast.
    Breast,
    /// Middle of the thickest part of the thigh, away from bone.
    Thigh,
    /// Innermost part of the wing: judged, and no part of the forecast, since the model has no such place.
    Wing,
    /// Centre of the stuffing.
    Stuffing,
    /// The air of the oven, near the bird.
    Oven,
}

impl ProbePlace {
    /// The word on the wire.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Breast => "breast",
            Self::Thigh => "thigh",
            Self::Wing => "wing",
            Self::Stuffing => "stuffing",
            Self::Oven => "oven",
        }
    }

    /// The place in the model; nothing for the wing and the air of the oven.
    pub(super) const fn zone(self) -> Option<Zone> {
        match self {
            Self::Breast => Some(Zone::Breast),
            Self::Thigh => Some(Zone::Thigh),
            Self::Stuffing => Some(Zone::Stuffing),
            Self::Wing | Self::Oven => None,
        }
    }
}

/// What sort of trouble readings show.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum ProbeTrouble {
    /// The probe was pulled out or moved: the reading leapt, or fell in a hot oven.
    PulledOut,
    /// The probe reads hotter than flesh in this place can be: it touches bone or the pan, or sits near the surface.
    TouchesBone,
    /// The door of the oven was opened.
    DoorOpened,
    /// The oven is off, or its door stands open.
    OvenOff,
    /// The readings lie more than 3 K from every likely roast.
    UnlikeAny,
}

/// One trouble, with its time and the evidence for it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ProbeFinding {
    /// What it is.
    pub trouble: ProbeTrouble,
    /// The probe that shows it.
    pub place: ProbePlace,
    /// The first reading that shows it.
    pub at: Duration,
    /// The first reading that no longer shows it; nothing while it lasts.
    pub until: Option<Duration>,
    /// What was read and what was to be expected.
    pub evidence: String,
}

/// A reading may differ by this much more than flesh can change: noise and rounding of the thermometer (assumed).
const NOISE_K: f64 = 3.0;

/// A rise is a leap when it is this many times that of the quickest member (assumed).
const LEAP: f64 = 3.0;

/// A reading this far above the hottest member is not one of flesh; less than [`NOISE_K`] above it is one again.
const TOO_HOT_K: f64 = 5.0;

/// A probe that was moved counts in its new, colder place after this long.
const SETTLED_S: f64 = 900.0;

/// A core that rises over this long by less than [`STALLED`] of what the best member rises has no oven round it.
const STALL_S: f64 = 1200.0;
const STALLED: f64 = 0.25;
const RECOVERED: f64 = 0.5;
/// Least rise to be expected before a stall can be seen through the noise, K.
const SEEN_K: f64 = 4.0;

/// An oven this far below its setting is open or off, and this far below it is itself again. Thermostats swing by
/// ± 15 K (assumed; no source).
const OPEN_K: f64 = 40.0;
const CLOSED_K: f64 = 20.0;
/// An oven has come to a new setting after this long (assumed).
const HEATED_S: f64 = 1200.0;
/// A door that is open for longer is an oven that is off.
const LONGEST_OPEN_S: f64 = 900.0;

/// What became of a reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Trust {
    /// It counts.
    Counts,
    /// It is kept out.
    KeptOut,
    /// It counts, and those before it no longer do: the probe sits in a colder place now.
    StartsAnew,
}

/// Readings of one stretch of five minutes.
#[derive(Clone, Copy, Debug, Default)]
struct Average {
    stretch: f64,
    count: f64,
    elapsed: f64,
    celsius: f64,
}

impl Average {
    fn add_misfit(&self, runs: &PlaceRuns, misfit: &mut [f64]) {
        runs.add_misfit(self.elapsed / self.count, self.celsius / self.count, misfit);
    }
}

/// The readings of one probe in the food.
#[derive(Clone, Debug)]
pub(super) struct PlaceWatch {
    pub(super) place: ProbePlace,
    last_counted: Option<(f64, f64)>,
    /// The finding that keeps readings out, and when and at what the probe was last seen jumping.
    kept_out: Option<KeptOut>,
    /// The finding of a stall.
    stalled: Option<usize>,
    recent: VecDeque<(f64, f64)>,
    /// Σd² of each member over the averages that are complete.
    misfit: Vec<f64>,
    averages: u32,
    open: Average,
}

#[derive(Clone, Copy, Debug)]
struct KeptOut {
    finding: usize,
    steady_since: f64,
    last: (f64, f64),
}

impl PlaceWatch {
    pub(super) fn new(place: ProbePlace, members: usize) -> Self {
        Self {
            place,
            last_counted: None,
            kept_out: None,
            stalled: None,
            recent: VecDeque::new(),
            misfit: vec![0.0; members],
            averages: 0,
            open: Average::default(),
        }
    }

    /// Judges a reading and, if it counts, adds it. Gives what became of it, and seconds lost in a stall that is over.
    pub(super) fn push(
        &mut self,
        runs: &PlaceRuns,
        elapsed_s: f64,
        reading: Temperature,
        findings: &mut Vec<ProbeFinding>,
    ) -> Result<(Trust, f64), Error> {
        let trust = self.judge(runs, elapsed_s, reading, findings)?;
        let celsius = reading.as_celsius();
        if trust == Trust::KeptOut {
            return Ok((trust, 0.0));
        }
        if trust == Trust::StartsAnew {
            self.misfit.fill(0.0);
            self.averages = 0;
            self.open = Average::default();
            self.recent.clear();
        }
        let stretch = (elapsed_s / EVERY_S).floor();
        if self.open.count > 0.0 && stretch > self.open.stretch {
            self.open.add_misfit(runs, &mut self.misfit);
            self.averages += 1;
            self.open = Average::default();
        }
        self.open.stretch = stretch;
        self.open.count += 1.0;
        self.open.elapsed += elapsed_s;
        self.open.celsius += celsius;
        self.last_counted = Some((elapsed_s, celsius));
        let lost_s = self.watch_for_stall(runs, elapsed_s, reading, findings)?;
        Ok((trust, lost_s))
    }

    fn judge(
        &mut self,
        runs: &PlaceRuns,
        elapsed_s: f64,
        reading: Temperature,
        findings: &mut Vec<ProbeFinding>,
    ) -> Result<Trust, Error> {
        let celsius = reading.as_celsius();
        let hottest = runs.hottest(elapsed_s);
        let flesh = |from: (f64, f64)| {
            let rise = LEAP * runs.steepest_rise(from.0, elapsed_s);
            celsius >= from.1 - NOISE_K && celsius <= from.1 + NOISE_K + rise
        };
        if let Some(mut out) = self.kept_out {
            let back = celsius <= hottest + NOISE_K && self.last_counted.is_none_or(flesh);
            if !flesh(out.last) {
                out.steady_since = elapsed_s;
            }
            out.last = (elapsed_s, celsius);
            self.kept_out = Some(out);
            let colder = self
                .last_counted
                .is_some_and(|(_, before)| celsius < before - NOISE_K);
            let settled = colder && elapsed_s - out.steady_since >= SETTLED_S;
            if !back && !settled {
                return Ok(Trust::KeptOut);
            }
            findings[out.finding].until = Some(to_duration(elapsed_s)?);
            self.kept_out = None;
            return Ok(if back {
                Trust::Counts
            } else {
                Trust::StartsAnew
            });
        }
        let (trouble, evidence) = if celsius > hottest + TOO_HOT_K {
            let evidence = format!(
                "{reading} was read; the hottest of {} roasts has {hottest:.1} °C there by then",
                self.misfit.len()
            );
            let leapt = self.last_counted.is_some_and(|last| !flesh(last));
            (
                if leapt {
                    ProbeTrouble::PulledOut
                } else {
                    ProbeTrouble::TouchesBone
                },
                evidence,
            )
        } else if let Some(last) = self.last_counted.filter(|&last| !flesh(last)) {
            let evidence = format!(
                "{reading} was read {:.1} min after {:.1} °C; the quickest of {} roasts rises {:.1} K in that time, and none falls",
                (elapsed_s - last.0) / 60.0,
                last.1,
                self.misfit.len(),
                runs.steepest_rise(last.0, elapsed_s)
            );
            (ProbeTrouble::PulledOut, evidence)
        } else {
            return Ok(Trust::Counts);
        };
        self.kept_out = Some(KeptOut {
            finding: findings.len(),
            steady_since: elapsed_s,
            last: (elapsed_s, celsius),
        });
        findings.push(ProbeFinding {
            trouble,
            place: self.place,
            at: to_duration(elapsed_s)?,
            until: None,
            evidence,
        });
        Ok(Trust::KeptOut)
    }

    /// An oven that is off shows in the core as a rise that stops, late and with no other sign.
    fn watch_for_stall(
        &mut self,
        runs: &PlaceRuns,
        elapsed_s: f64,
        reading: Temperature,
        findings: &mut Vec<ProbeFinding>,
    ) -> Result<f64, Error> {
        let celsius = reading.as_celsius();
        self.recent.push_back((elapsed_s, celsius));
        // The last reading that is old enough stands at the front.
        while self
            .recent
            .get(1)
            .is_some_and(|next| elapsed_s - next.0 >= STALL_S)
        {
            self.recent.pop_front();
        }
        let (from_s, from) = self.recent[0];
        if elapsed_s - from_s < STALL_S {
            return Ok(0.0);
        }
        let least = self
            .misfit
            .iter()
            .enumerate()
            .min_by(|a, b| a.1.total_cmp(b.1));
        let best = least.map_or(0, |(member, _)| member);
        let expected = runs.rise_of(best, from_s, elapsed_s);
        let rise = celsius - from;
        match self.stalled {
            None if expected >= SEEN_K && rise < STALLED * expected => {
                self.stalled = Some(findings.len());
                findings.push(ProbeFinding {
                    trouble: ProbeTrouble::OvenOff,
                    place: self.place,
                    at: to_duration(from_s)?,
                    until: None,
                    evidence: format!(
                        "{reading} was read {:.0} min after {from:.1} °C; the nearest roast rises {expected:.1} K in that time",
                        (elapsed_s - from_s) / 60.0
                    ),
                });
                Ok(0.0)
            }
            Some(finding) if rise >= (RECOVERED * expected).max(RECOVERED * SEEN_K) => {
                self.stalled = None;
                findings[finding].until = Some(to_duration(elapsed_s)?);
                Ok(elapsed_s - findings[finding].at.as_seconds())
            }
            _ => Ok(0.0),
        }
    }

    /// Adds what this probe says of every member; gives the number of averages.
    pub(super) fn add_misfit(&self, runs: &PlaceRuns, misfit: &mut [f64]) -> f64 {
        for (sum, own) in misfit.iter_mut().zip(&self.misfit) {
            *sum += own;
        }
        if self.open.count > 0.0 {
            self.open.add_misfit(runs, misfit);
        }
        f64::from(self.averages) + if self.open.count > 0.0 { 1.0 } else { 0.0 }
    }

    /// Whether readings are kept out at present.
    pub(super) fn in_doubt(&self) -> bool {
        self.kept_out.is_some()
    }

    /// Whether the oven seems to be off at present.
    pub(super) fn without_heat(&self) -> bool {
        self.stalled.is_some()
    }

    /// The last reading that counts, in seconds and °C.
    pub(super) fn last_counted(&self) -> Option<(f64, f64)> {
        self.last_counted
    }
}

/// The readings of a probe in the air of the oven.
#[derive(Clone, Debug)]
pub(super) struct OvenWatch {
    /// Begin of each setting in seconds, and the setting in °C.
    settings: Vec<(f64, f64)>,
    low: Option<usize>,
}

impl OvenWatch {
    pub(super) fn new(stretches: &[Stretch]) -> Self {
        let mut begun = 0.0;
        let settings = stretches
            .iter()
            .map(|stretch| {
                let setting = (begun, stretch.around.air_degc);
                begun += stretch.seconds;
                setting
            })
            .collect();
        Self {
            settings,
            low: None,
        }
    }

    /// Judges a reading. Gives the seconds lost while the oven was open or off, once that is over.
    pub(super) fn push(
        &mut self,
        elapsed_s: f64,
        reading: Temperature,
        findings: &mut Vec<ProbeFinding>,
    ) -> Result<f64, Error> {
        let begun = self
            .settings
            .iter()
            .rev()
            .find(|(begun, _)| *begun <= elapsed_s);
        let Some(&(begun, setting)) = begun else {
            return Ok(0.0);
        };
        let celsius = reading.as_celsius();
        if let Some(low) = self.low {
            let finding = &mut findings[low];
            let lasted_s = elapsed_s - finding.at.as_seconds();
            if celsius >= setting - CLOSED_K {
                finding.until = Some(to_duration(elapsed_s)?);
                self.low = None;
                return Ok(lasted_s);
            }
            if lasted_s >= LONGEST_OPEN_S {
                finding.trouble = ProbeTrouble::OvenOff;
            }
        } else if elapsed_s - begun >= HEATED_S && celsius < setting - OPEN_K {
            self.low = Some(findings.len());
            findings.push(ProbeFinding {
                trouble: ProbeTrouble::DoorOpened,
                place: ProbePlace::Oven,
                at: to_duration(elapsed_s)?,
                until: None,
                evidence: format!("{reading} was read in the oven; it is set to {setting:.0} °C"),
            });
        }
        Ok(0.0)
    }

    /// Whether the oven is off at present, as against opened.
    pub(super) fn without_heat(&self, findings: &[ProbeFinding]) -> bool {
        self.low
            .is_some_and(|low| findings[low].trouble == ProbeTrouble::OvenOff)
    }

    /// Seconds since a door was opened that is still open.
    pub(super) fn open_for(&self, now_s: f64, findings: &[ProbeFinding]) -> f64 {
        self.low
            .map_or(0.0, |low| now_s - findings[low].at.as_seconds())
    }
}
