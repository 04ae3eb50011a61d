//! The constants of the model, each with its source.
//!
//! "Fitted" means fitted to a published table by a reference calculation with this same model; "common practice" and
//! "from memory" mean that no text was read for the figure.

/// Absolute zero, exact.
pub(super) const ABSOLUTE_ZERO_DEGC: f64 = -273.15;

/// Stefan–Boltzmann constant (CODATA 2018).
pub(super) const STEFAN_BOLTZMANN_W_M2_K4: f64 = 5.670_374_419e-8;

/// Specific heat of air (handbook value, from memory).
pub(super) const DRY_AIR_HEAT_J_KG_K: f64 = 1007.0;

/// Standard atmosphere, exact.
pub(super) const STANDARD_PRESSURE_PA: f64 = 101_325.0;

/// Dimension E of the shape, 2 for a long cylinder: a judgement. The published roasting tables fit equally well with any E
/// from 1 to 3; cook loss (about 14 % evaporated) and carry-over (about 6 K) speak for 2.
pub(super) const DIMENSION: f64 = 2.0;

/// R = c m^(1/3): breast zone of a whole bird. Fitted to the USDA table for unstuffed turkey (8–24 lb, 325 °F) with
/// 165 °F as the end, errors +4 to −3 %.
pub(super) const BREAST_M_KG: f64 = 0.0355;

/// Thigh zone of a whole bird, fitted to the same table with 180 °F in the thigh as the end, errors +4.1 to −2.7 %.
/// Against it: Chang, Carpenter and Toledo 1998 found the joints slower than the breast.
pub(super) const THIGH_M_KG: f64 = 0.0317;

/// Centre of the stuffing, fitted to the USDA table for stuffed turkey with 165 °F as the end, errors −2.0 to +2.3 %.
pub(super) const STUFFING_M_KG: f64 = 0.0370;

/// Bone-in breast, fitted to the USDA table for breast (4–8 lb), errors +10.5 and −9.5 %: the table rises faster with
/// mass than any fixed shape can.
pub(super) const BREAST_PIECE_M_KG: f64 = 0.0359;

/// Frozen whole bird, ± 9 %: between the roasting value and what a textbook chart reading for a 7 kg turkey frozen in
/// brine implies. A closed, giblet-filled bird acts larger than an open one.
pub(super) const FROZEN_M_KG: f64 = 0.0343;

/// Vapour conductance of the skin, `h_s`: chosen with [`DIMENSION`] for the cook loss; a judgement.
pub(super) const SKIN_W_M2_K: f64 = 1.0;

/// Emissivity of skin (usual figure for moist surfaces, from memory).
pub(super) const EMISSIVITY: f64 = 0.9;

/// Convection in a still oven: Churchill's correlation for a sphere gives 4.8–6.3. With radiation the total is
/// about 18.9 against 19.25 measured (Chang, Carpenter and Toledo 1998).
pub(super) const STILL_OVEN_W_M2_K: f64 = 6.0;

/// Convection in a fan oven, range 15–25 (from memory).
pub(super) const FAN_OVEN_W_M2_K: f64 = 20.0;

/// Convection in a room: free-convection correlation, 4.7–5.4 with a hot bird, less under the loose cover most use.
pub(super) const ROOM_W_M2_K: f64 = 4.0;

/// Convection in a refrigerator, bare: free-convection correlation, 2.9–3.4, and a little air movement.
pub(super) const REFRIGERATOR_W_M2_K: f64 = 3.5;

/// All heat transfer through a wrap in a refrigerator, range 3–5. Set by hand so that a 12 lb bird thaws in the time
/// of the usual rule; known only to a factor of two.
pub(super) const WRAPPED_W_M2_K: f64 = 4.0;

/// Still cold water, range 100–150 (from memory).
pub(super) const STILL_WATER_W_M2_K: f64 = 120.0;

/// Running water, range 200–500 (from memory); the lower end.
pub(super) const RUNNING_WATER_W_M2_K: f64 = 200.0;

/// Vapour pressure in an oven, a room and a refrigerator (assumed).
pub(super) const OVEN_VAPOUR_PA: f64 = 3000.0;
/// See [`OVEN_VAPOUR_PA`].
pub(super) const ROOM_VAPOUR_PA: f64 = 1200.0;
/// See [`OVEN_VAPOUR_PA`].
pub(super) const REFRIGERATOR_VAPOUR_PA: f64 = 800.0;

/// A bird roasted from frozen takes at least this many times as long as a thawed one (USDA guidance: at least 50 %
/// longer). The model alone says 1.43 to 1.45 and is known to be short.
pub(super) const FROZEN_ROAST_RATIO: (i64, i64) = (3, 2);

/// Air of the kitchen that fills an oven whose door is open (assumed).
pub(super) const KITCHEN_DEGC: f64 = 22.0;

/// Emissivity of aluminium foil (handbooks give 0.04 to 0.1, from memory).
pub(super) const FOIL_EMISSIVITY: f64 = 0.07;

/// Share of the surface under a loose tent: the top half (a judgement; no measured roast under foil was found).
pub(super) const FOIL_COVER: f64 = 0.5;
