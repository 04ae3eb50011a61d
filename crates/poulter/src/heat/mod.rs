//! How fast a bird warms and cools: thaw, roast, rest and cooling as one model.
//!
//! The food is one depth r from centre to surface, with an area ∝ r^(E−1) and R = c m^(1/3). Enthalpy moves down the
//! gradient of Θ = ∫k dT; properties come from the composition (Choi and Okos 1986), ice from Chen 1985. At the surface
//! stand convection, radiation and evaporation through the skin. The constants behind it, each with its source and
//! how it was found, are in the file `parameters.rs` of this module.
//!
//! | question | call |
//! |---|---|
//! | how long does the roast take, place by place | [`simulate_roast`] |
//! | how far does it rise while it rests | [`simulate_rest`] |
//! | at what reading is it taken out | [`pull_from_oven`] |
//! | how long does the thaw take | [`simulate_thaw`] |
//! | how fast do a bird, its meat or its stock cool | [`simulate_cooling`] |
//! | when will this roast be done, by its probes so far | [`Forecast`], and [`Probe`] with verdict and kill |
//! | what is left of a roast or a thaw that has begun | [`remaining_roast`], [`remaining_thaw`] |
//!
//! [`answers`] sets each beside the rules of a standard.
//!
//! A model explains; it never decides. Its times carry a [`Band`], and every answer says what it leaves out. Roasting
//! times were fitted to the USDA table, so that agreement with it shows the scaling with mass and little else. The
//! weakest parts are the thaw in a refrigerator, carry-over and the middle of a roast from frozen.

pub mod answers;

mod band;
mod body;
mod boundary;
mod component;
mod cooling;
mod coverage;
mod curve;
mod ensemble;
mod forecast;
mod growth_bound;
mod ice;
mod kill;
mod limits;
mod material;
mod mixture;
mod oven;
mod parameters;
mod prior;
mod probe;
mod pull;
mod remaining;
mod rest;
mod roast;
mod solver;
mod surroundings;
mod thaw;
mod tridiagonal;
mod watch;
mod weights;

#[cfg(test)]
mod exact_tests;

pub use band::Band;
pub use component::Component;
pub use cooling::{
    CooledFrom, CoolingFood, CoolingSimulation, CoolingSimulationQuery, CoolingStay, Passing,
    simulate_cooling,
};
pub use curve::{Curve, Zone};
pub use forecast::{
    BandCoverage, Forecast, ForecastQuery, NoForecast, PlaceForecast, ProbeReading, ProbeTrace,
    ReadingAhead, TimeForecast,
};
pub use growth_bound::{CoolingGrowth, ZoneGrowth};
pub use ice::{IceRule, estimate_freezing_point};
pub use kill::KillBasis;
pub use mixture::{MixingRule, Mixture};
pub use oven::{DoorOpening, FoilTent, OvenLag, OvenStage};
pub use probe::{Probe, ProbeState};
pub use pull::{Pull, pull_from_oven};
pub use remaining::{
    RemainingRoast, RemainingThaw, RemainingThawQuery, remaining_roast, remaining_thaw,
};
pub use rest::{CarryOver, RestSimulation, RestSimulationQuery, RestedZone, simulate_rest};
pub use roast::{RoastCut, RoastSimulation, RoastSimulationQuery, RoastedZone, simulate_roast};
pub use surroundings::Surroundings;
pub use thaw::{ThawSimulation, ThawSimulationQuery, simulate_thaw};
pub use watch::{ProbeFinding, ProbePlace, ProbeTrouble};
