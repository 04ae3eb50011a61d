/*
 * Poulter: rules, verdicts and plans for poultry. The C interface.
 *
 * Made from bindings/c by its test; POULTER_BLESS=1 cargo test -p poulter-c writes it anew. Do not edit it by hand.
 *
 * Conventions
 *
 * Order      Inputs come first, then outputs, then the error object.
 * Status     A call that can fail returns a poulter_status, a plain uint32_t. Compare it with POULTER_STATUS_*. A newer
 *            library may return numbers that this header does not name: treat each as a failure. Food that is not safe
 *            is no failure. The answer says so, and the status is 0.
 * Outputs    They are written on success and left as they were on failure.
 * NULL       Every pointer is checked. Where NULL means something its function says so; elsewhere it is refused with
 *            POULTER_STATUS_NULL_POINTER. Freeing NULL does nothing.
 * Text       In: a pointer and a length in bytes, UTF-8, with or without a closing zero; the words that
 *            poulter_worksheet takes are short and end in a zero byte. Out: poulter_buffer when it is the caller's to
 *            free, poulter_text when it is lent. Both are followed by a zero byte that len leaves out.
 * Errors     The caller makes a poulter_error, lends it to a call and reads it after a failure. Each call that gets it
 *            replaces what it held; success empties it. There is no error state outside this object.
 * Ownership  What a function of this library hands over is freed by the function named in its description, never by
 *            free(). Nothing that the caller passes in is kept after the call.
 * Threads    Every function may be called from any thread. One object serves one thread at a time, but for those that
 *            nothing changes once they are made: a poulter_planner and a poulter_plan serve any number at once, until
 *            one thread frees them.
 * Scalars    A number carries its unit in its name: mass_kg, low_s, temp_degC. A word (a species, a unit) is a number
 *            of an enum of this header, passed as uint32_t; an unknown one is POULTER_STATUS_UNKNOWN_VALUE.
 * Arrays     `len` counts items. All of them are written, or none when one is refused; the field then names its place,
 *            as in mass_kg[3]. The output may be the input.
 * Panics     A fault inside the library ends at its border, as POULTER_STATUS_PANIC.
 * Versions   Compare POULTER_ABI_VERSION with poulter_abi_version() when the library is loaded at run time.
 */

#ifndef POULTER_H
#define POULTER_H

#include <stddef.h>
#include <stdint.h>

/** The version of this header. */
#define POULTER_VERSION_MAJOR 0
#define POULTER_VERSION_MINOR 1
#define POULTER_VERSION_PATCH 0
#define POULTER_VERSION "0.1.0"

/**
 * The binary interface this header describes. It goes up when a program built against an older header could break.
 */
#define POULTER_ABI_VERSION 1

/**
 * How a value is compared with its limit.
 */
enum poulter_comparison
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  /**
   * Below the limit.
   */
  POULTER_COMPARISON_BELOW = 1,
  /**
   * At the limit or below.
   */
  POULTER_COMPARISON_AT_MOST = 2,
  /**
   * At the limit or above.
   */
  POULTER_COMPARISON_AT_LEAST = 3,
  /**
   * Above the limit.
   */
  POULTER_COMPARISON_ABOVE = 4,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum poulter_comparison poulter_comparison;
#else
typedef uint32_t poulter_comparison;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * How the bird is cut.
 */
enum poulter_cut
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  /**
   * A whole bird.
   */
  POULTER_CUT_WHOLE = 1,
  /**
   * A whole bird with the backbone out, pressed flat.
   */
  POULTER_CUT_FLATTENED = 2,
  /**
   * A breast or crown, on the bone.
   */
  POULTER_CUT_BREAST = 3,
  /**
   * A breast without bone.
   */
  POULTER_CUT_BONELESS_BREAST = 4,
  /**
   * A leg: thigh and drumstick.
   */
  POULTER_CUT_LEG = 5,
  /**
   * A thigh.
   */
  POULTER_CUT_THIGH = 6,
  /**
   * A drumstick.
   */
  POULTER_CUT_DRUMSTICK = 7,
  /**
   * A wing.
   */
  POULTER_CUT_WING = 8,
  /**
   * Mixed parts.
   */
  POULTER_CUT_PARTS = 9,
  /**
   * Ground meat.
   */
  POULTER_CUT_GROUND = 10,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum poulter_cut poulter_cut;
#else
typedef uint32_t poulter_cut;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * An organism in a food whose rate of growth a source gives. Every one is experimental.
 */
enum poulter_growth_model
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  /**
   * Clostridium perfringens in roasted chicken without nitrite.
   */
  POULTER_GROWTH_MODEL_PERFRINGENS_ROASTED_CHICKEN = 1,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum poulter_growth_model poulter_growth_model;
#else
typedef uint32_t poulter_growth_model;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * How much is to be left over.
 */
enum poulter_leftovers
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  /**
   * Nothing planned.
   */
  POULTER_LEFTOVERS_NONE = 1,
  /**
   * A second meal.
   */
  POULTER_LEFTOVERS_SOME = 2,
  /**
   * Several meals, or for the freezer.
   */
  POULTER_LEFTOVERS_PLENTY = 3,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum poulter_leftovers poulter_leftovers;
#else
typedef uint32_t poulter_leftovers;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * Where a probe is.
 */
enum poulter_probe_place
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  /**
   * Middle of the thickest part of the breast.
   */
  POULTER_PROBE_PLACE_BREAST = 1,
  /**
   * Middle of the thickest part of the thigh, away from bone.
   */
  POULTER_PROBE_PLACE_THIGH = 2,
  /**
   * Innermost part of the wing.
   */
  POULTER_PROBE_PLACE_WING = 3,
  /**
   * Centre of the stuffing.
   */
  POULTER_PROBE_PLACE_STUFFING = 4,
  /**
   * The air of the oven.
   */
  POULTER_PROBE_PLACE_OVEN = 5,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum poulter_probe_place poulter_probe_place;
#else
typedef uint32_t poulter_probe_place;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * A kind of salt.
 */
enum poulter_salt_kind
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  /**
   * Fine table salt.
   */
  POULTER_SALT_KIND_TABLE = 1,
  /**
   * Coarse kosher salt of the dense, rolled sort.
   */
  POULTER_SALT_KIND_KOSHER_DENSE = 2,
  /**
   * Coarse kosher salt of the light, flaked sort.
   */
  POULTER_SALT_KIND_KOSHER_FLAKE = 3,
  /**
   * Fine sea salt.
   */
  POULTER_SALT_KIND_FINE_SEA = 4,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum poulter_salt_kind poulter_salt_kind;
#else
typedef uint32_t poulter_salt_kind;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * A published lethality scheme: a target with the temperatures and times that belong to it.
 */
enum poulter_scheme
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  /**
   * The longer hold of chicken and turkey, 7-log10 Salmonella: for every bird and for mixtures.
   */
  POULTER_SCHEME_POULTRY = 1,
  /**
   * Chicken, 7-log10 Salmonella.
   */
  POULTER_SCHEME_CHICKEN = 2,
  /**
   * Turkey, 7-log10 Salmonella.
   */
  POULTER_SCHEME_TURKEY = 3,
  /**
   * Meat without poultry, 6.5-log10 Salmonella; never for poultry.
   */
  POULTER_SCHEME_MEAT = 4,
  /**
   * 70 °C for 2 min, six powers of ten of Listeria.
   */
  POULTER_SCHEME_UK = 5,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum poulter_scheme poulter_scheme;
#else
typedef uint32_t poulter_scheme;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * A kind of bird.
 */
enum poulter_species
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  /**
   * Turkey.
   */
  POULTER_SPECIES_TURKEY = 1,
  /**
   * Chicken: broiler, fryer or roaster.
   */
  POULTER_SPECIES_CHICKEN = 2,
  /**
   * Capon.
   */
  POULTER_SPECIES_CAPON = 3,
  /**
   * A hen of up to 2 lb, one to a person.
   */
  POULTER_SPECIES_SMALL_HEN = 4,
  /**
   * Duck or duckling.
   */
  POULTER_SPECIES_DUCK = 5,
  /**
   * Goose.
   */
  POULTER_SPECIES_GOOSE = 6,
  /**
   * Guinea fowl.
   */
  POULTER_SPECIES_GUINEA_FOWL = 7,
  /**
   * Pheasant.
   */
  POULTER_SPECIES_PHEASANT = 8,
  /**
   * Quail.
   */
  POULTER_SPECIES_QUAIL = 9,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum poulter_species poulter_species;
#else
typedef uint32_t poulter_species;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * A standard that comes with the library; the door takes its name as text.
 */
enum poulter_standard
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  /**
   * `us-consumer`
   */
  POULTER_STANDARD_US_CONSUMER = 1,
  /**
   * `us-food-code-2022`
   */
  POULTER_STANDARD_US_FOOD_CODE2022 = 2,
  /**
   * `us-processor`
   */
  POULTER_STANDARD_US_PROCESSOR = 3,
  /**
   * `uk`
   */
  POULTER_STANDARD_UK = 4,
  /**
   * `scotland`
   */
  POULTER_STANDARD_SCOTLAND = 5,
  /**
   * `canada`
   */
  POULTER_STANDARD_CANADA = 6,
  /**
   * `australia`
   */
  POULTER_STANDARD_AUSTRALIA = 7,
  /**
   * `new-zealand`
   */
  POULTER_STANDARD_NEW_ZEALAND = 8,
  /**
   * `kitchen-practice`: customs that no authority sets
   */
  POULTER_STANDARD_KITCHEN_PRACTICE = 9,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum poulter_standard poulter_standard;
#else
typedef uint32_t poulter_standard;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * How a call ended. A number keeps its meaning for ever; one that is retired stays reserved.
 *
 * Below 100: this interface. 1xx input, 2xx units, 3xx rules, 4xx model range, 5xx solver, 9xx internal.
 * Unsafe food is not an error: it is an answer, with status 0.
 */
enum poulter_status
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  /**
   * Success; the outputs are written.
   */
  POULTER_STATUS_OK = 0,
  /**
   * An argument that must not be NULL is NULL.
   */
  POULTER_STATUS_NULL_POINTER = 1,
  /**
   * A fault inside the library, caught at its border; please report it.
   */
  POULTER_STATUS_PANIC = 2,
  /**
   * The bytes are not UTF-8.
   */
  POULTER_STATUS_NOT_UTF8 = 3,
  /**
   * The text is not well-formed JSON.
   */
  POULTER_STATUS_MALFORMED = 101,
  /**
   * A field that the request does not have.
   */
  POULTER_STATUS_UNKNOWN_FIELD = 102,
  /**
   * A field that the request must have.
   */
  POULTER_STATUS_MISSING_FIELD = 103,
  /**
   * A value of the wrong type.
   */
  POULTER_STATUS_WRONG_TYPE = 104,
  /**
   * A word that is not in the list of allowed words.
   */
  POULTER_STATUS_UNKNOWN_VALUE = 105,
  /**
   * A number outside the allowed range, or not finite.
   */
  POULTER_STATUS_OUT_OF_RANGE = 106,
  /**
   * A moment that cannot be read, has no zone, or lies in the past.
   */
  POULTER_STATUS_BAD_MOMENT = 107,
  /**
   * The request is larger than the library accepts.
   */
  POULTER_STATUS_TOO_LARGE = 108,
  /**
   * Two fields that contradict each other.
   */
  POULTER_STATUS_CONFLICT = 109,
  /**
   * A number without its unit.
   */
  POULTER_STATUS_UNIT_MISSING = 201,
  /**
   * A unit that is unknown or of the wrong dimension.
   */
  POULTER_STATUS_UNIT_UNKNOWN = 202,
  /**
   * A volume of salt without the kind of salt.
   */
  POULTER_STATUS_SALT_KIND_MISSING = 203,
  /**
   * No published row covers the case.
   */
  POULTER_STATUS_NO_PUBLISHED_ROW = 301,
  /**
   * A standard, rule or source that the rulebook does not hold.
   */
  POULTER_STATUS_RULE_UNKNOWN = 302,
  /**
   * A rule file that breaks the schema.
   */
  POULTER_STATUS_RULE_INVALID = 303,
  /**
   * A case outside the range in which a model was checked.
   */
  POULTER_STATUS_MODEL_RANGE = 401,
  /**
   * A numerical method that did not converge.
   */
  POULTER_STATUS_NOT_CONVERGED = 501,
  /**
   * A fault in the library that it noticed itself; please report it.
   */
  POULTER_STATUS_INTERNAL = 901,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum poulter_status poulter_status;
#else
typedef uint32_t poulter_status;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * How a bird is thawed.
 */
enum poulter_thaw_method
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  /**
   * In the refrigerator.
   */
  POULTER_THAW_METHOD_REFRIGERATOR = 1,
  /**
   * In a leak-proof bag under cold water that is changed.
   */
  POULTER_THAW_METHOD_COLD_WATER = 2,
  /**
   * Under running water, as in food service.
   */
  POULTER_THAW_METHOD_RUNNING_WATER = 3,
  /**
   * In a microwave oven.
   */
  POULTER_THAW_METHOD_MICROWAVE = 4,
  /**
   * In the cold brine.
   */
  POULTER_THAW_METHOD_IN_BRINE = 5,
  /**
   * Not at all: cooked from frozen.
   */
  POULTER_THAW_METHOD_FROM_FROZEN = 6,
  /**
   * At room temperature: never allowed.
   */
  POULTER_THAW_METHOD_ROOM_TEMPERATURE = 7,
  /**
   * In warm or hot water: never allowed.
   */
  POULTER_THAW_METHOD_HOT_WATER = 8,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum poulter_thaw_method poulter_thaw_method;
#else
typedef uint32_t poulter_thaw_method;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * A unit of measure; cups, spoons, quarts and gallons are the US customary ones.
 */
enum poulter_unit
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  /**
   * `degC`, a temperature
   */
  POULTER_UNIT_CELSIUS = 1,
  /**
   * `degF`, a temperature
   */
  POULTER_UNIT_FAHRENHEIT = 2,
  /**
   * `K`, a temperature
   */
  POULTER_UNIT_KELVIN = 3,
  /**
   * `delta_degC`, a difference of temperatures
   */
  POULTER_UNIT_DELTA_CELSIUS = 4,
  /**
   * `delta_degF`, a difference of temperatures
   */
  POULTER_UNIT_DELTA_FAHRENHEIT = 5,
  /**
   * `kg`
   */
  POULTER_UNIT_KILOGRAM = 6,
  /**
   * `g`
   */
  POULTER_UNIT_GRAM = 7,
  /**
   * `mg`
   */
  POULTER_UNIT_MILLIGRAM = 8,
  /**
   * `lb`
   */
  POULTER_UNIT_POUND = 9,
  /**
   * `oz`
   */
  POULTER_UNIT_OUNCE = 10,
  /**
   * `s`
   */
  POULTER_UNIT_SECOND = 11,
  /**
   * `min`
   */
  POULTER_UNIT_MINUTE = 12,
  /**
   * `h`
   */
  POULTER_UNIT_HOUR = 13,
  /**
   * `d`
   */
  POULTER_UNIT_DAY = 14,
  /**
   * `L`
   */
  POULTER_UNIT_LITRE = 15,
  /**
   * `mL`
   */
  POULTER_UNIT_MILLILITRE = 16,
  /**
   * `gal`
   */
  POULTER_UNIT_GALLON = 17,
  /**
   * `qt`
   */
  POULTER_UNIT_QUART = 18,
  /**
   * `cup`
   */
  POULTER_UNIT_CUP = 19,
  /**
   * `floz`
   */
  POULTER_UNIT_FLUID_OUNCE = 20,
  /**
   * `tbsp`
   */
  POULTER_UNIT_TABLESPOON = 21,
  /**
   * `tsp`
   */
  POULTER_UNIT_TEASPOON = 22,
  /**
   * `m`
   */
  POULTER_UNIT_METRE = 23,
  /**
   * `cm`
   */
  POULTER_UNIT_CENTIMETRE = 24,
  /**
   * `mm`
   */
  POULTER_UNIT_MILLIMETRE = 25,
  /**
   * `ft`
   */
  POULTER_UNIT_FOOT = 26,
  /**
   * `in`
   */
  POULTER_UNIT_INCH = 27,
  /**
   * `%`
   */
  POULTER_UNIT_PERCENT = 28,
  /**
   * `1`, a share of a whole
   */
  POULTER_UNIT_RATIO = 29,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum poulter_unit poulter_unit;
#else
typedef uint32_t poulter_unit;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * The verdict over a log. Treat every other number as POULTER_VERDICT_FAILS.
 */
enum poulter_verdict
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  /**
   * The rule is met by the data given.
   */
  POULTER_VERDICT_MEETS = 1,
  /**
   * The rule is broken.
   */
  POULTER_VERDICT_FAILS = 2,
  /**
   * Data are missing or cannot be trusted; treat the food as if the rule were broken.
   */
  POULTER_VERDICT_CANNOT_TELL = 3,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum poulter_verdict poulter_verdict;
#else
typedef uint32_t poulter_verdict;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * What went wrong in the last call that was given this object.
 */
struct poulter_error;

/**
 * A plan. Nothing changes it once it is made; threads may share it.
 */
struct poulter_plan;

/**
 * A planner: the rules it plans by. Nothing changes it once it is made; threads may share it.
 */
struct poulter_planner;

/**
 * The probes in one roast, with all they have shown. One handle serves one thread at a time.
 */
struct poulter_probe;

/**
 * What is told of one log. A number that there is none of is NaN.
 */
struct poulter_log_row {
  /**
   * One of POULTER_VERDICT_*.
   */
  uint32_t verdict;
  /**
   * Reserved; 0.
   */
  uint32_t reserved;
  /**
   * The row of the first fault that blocks a conclusion, counted from 1 within the log; 0 without one.
   */
  size_t fault_row;
  /**
   * How far the place that decided lies from its limit, in kelvin; negative on the unsafe side.
   */
  double margin_k;
  /**
   * The same where the limit is a time, in seconds.
   */
  double margin_s;
  /**
   * When every place had what the rule asks for.
   */
  double reached_s;
  /**
   * Kill of the place with the least, in powers of ten.
   */
  double reduction_log10;
  /**
   * When the kill came to the target of its scheme in every place.
   */
  double target_reached_s;
  /**
   * Growth without lag of the place with the most, in powers of ten.
   */
  double growth_log10;
};

/**
 * Bytes that the caller owns and gives back with `poulter_buffer_free`. Start from `{NULL, 0}`.
 *
 * A zero byte that `len` leaves out follows the last byte. The bytes may be changed, `data` and `len` may not.
 */
struct poulter_buffer {
  /**
   * The first byte; NULL when there is nothing to free.
   */
  uint8_t *data;
  /**
   * Bytes before the closing zero.
   */
  size_t len;
};

/**
 * Text that the library keeps and the caller may read: UTF-8, `len` bytes, then a zero byte that `len` leaves out.
 *
 * `data` is never NULL. The text itself may hold zero bytes, where an input did; `len` decides.
 */
struct poulter_text {
  /**
   * The first byte.
   */
  const char *data;
  /**
   * Bytes before the closing zero.
   */
  size_t len;
};

/**
 * A shortest, likely and longest time in seconds.
 */
struct poulter_time {
  /**
   * The quick case.
   */
  double low_s;
  /**
   * The likely case.
   */
  double likely_s;
  /**
   * The slow case; plan with it.
   */
  double high_s;
};

/**
 * One step of a plan. The texts last until the plan is freed.
 */
struct poulter_step {
  /**
   * A stable name within the plan, such as `thaw`.
   */
  struct poulter_text id;
  /**
   * A heading for people.
   */
  struct poulter_text title;
  /**
   * When it may start at the earliest: RFC 9557 text such as `2026-12-19T18:30:00+00:00[Europe/Lisbon]`.
   */
  struct poulter_text earliest;
  /**
   * When the sheet has it start.
   */
  struct poulter_text planned;
  /**
   * When it must start at the latest.
   */
  struct poulter_text latest;
  /**
   * `earliest` in seconds since 1970 began in Greenwich.
   */
  int64_t earliest_unix_s;
  /**
   * `planned`, likewise.
   */
  int64_t planned_unix_s;
  /**
   * `latest`, likewise.
   */
  int64_t latest_unix_s;
  /**
   * How long it takes.
   */
  struct poulter_time duration;
};

/**
 * What the readings say up to now. A time that cannot be told is NaN.
 */
struct poulter_probe_state {
  /**
   * One of POULTER_VERDICT_*, over every place that the standard names.
   */
  uint32_t verdict;
  /**
   * Number of findings: a probe on bone or pulled out, a door that opened, an oven that is off.
   */
  uint32_t findings;
  /**
   * Least kill up to now of the places without a fault, in powers of ten; NaN when there is none.
   */
  double log_reduction;
  /**
   * Seconds from the start until every place with a probe is at the target, one time in ten sooner.
   */
  double low_s;
  /**
   * The same, as likely sooner as later.
   */
  double likely_s;
  /**
   * The same, one time in ten later.
   */
  double high_s;
};

/**
 * A minimum temperature inside a cooked bird, to show and to set an alarm by. A verdict is `check_cooking`'s.
 */
struct poulter_minimum {
  /**
   * In degrees Celsius; where the rule binds in Fahrenheit it may have no end as a decimal number.
   */
  double temp_degC;
  /**
   * In degrees Fahrenheit.
   */
  double temp_degF;
  /**
   * How long it must hold, in seconds; 0 where it counts at once.
   */
  double hold_s;
  /**
   * One of POULTER_COMPARISON_*.
   */
  uint32_t comparison;
  /**
   * 1 where the rule is written in Fahrenheit, else 0.
   */
  uint32_t binds_in_fahrenheit;
};

#ifdef __cplusplus
extern "C" {
#endif // __cplusplus

/**
 * Raw mass to buy for guests of usual appetite, 0 to 1000 of each; `leftovers` is one of POULTER_LEFTOVERS_*.
 *
 * `error` may be NULL.
 */
poulter_status poulter_purchase_mass(uint32_t standard,
                                     uint32_t species,
                                     uint32_t cut,
                                     uint32_t adults,
                                     uint32_t children,
                                     uint32_t leftovers,
                                     double *mass_kg,
                                     struct poulter_error *error);

/**
 * The same for `len` parties.
 */
poulter_status poulter_purchase_masses(uint32_t standard,
                                       uint32_t species,
                                       uint32_t cut,
                                       const uint32_t *adults,
                                       const uint32_t *children,
                                       size_t len,
                                       uint32_t leftovers,
                                       double *mass_kg,
                                       struct poulter_error *error);

/**
 * Salt for a wet brine with `water_l` litres of water, by the standard's strength. `error` may be NULL.
 */
poulter_status poulter_wet_brine_salt(uint32_t standard,
                                      uint32_t species,
                                      uint32_t cut,
                                      double water_l,
                                      double *salt_kg,
                                      struct poulter_error *error);

/**
 * The same for `len` volumes of water.
 */
poulter_status poulter_wet_brine_salts(uint32_t standard,
                                       uint32_t species,
                                       uint32_t cut,
                                       const double *water_l,
                                       size_t len,
                                       double *salt_kg,
                                       struct poulter_error *error);

/**
 * Salt of a kind, one of POULTER_SALT_KIND_*, to rub on a bird of `mass_kg`, by the standard's amount.
 *
 * `error` may be NULL.
 */
poulter_status poulter_dry_brine_salt(uint32_t standard,
                                      uint32_t species,
                                      uint32_t cut,
                                      uint32_t kind,
                                      double mass_kg,
                                      double *salt_kg,
                                      struct poulter_error *error);

/**
 * The same for `len` masses.
 */
poulter_status poulter_dry_brine_salts(uint32_t standard,
                                       uint32_t species,
                                       uint32_t cut,
                                       uint32_t kind,
                                       const double *mass_kg,
                                       size_t len,
                                       double *salt_kg,
                                       struct poulter_error *error);

/**
 * Judges `logs` logs at once on all cores; one row for each is written to `rows`.
 *
 * `question` is JSON: `check` is "cooking", "cooling", "holding", "reheating" or "thawing", and beside it stand the
 * fields of that check without its log, such as {"check":"cooking","standard":"us-consumer","species":"chicken"}.
 *
 * `log`, `place`, `elapsed_s` and `temp_degC` hold `len` values each, one reading a row: the number of its log from
 * 0, the number of its place in `places`, seconds since the log began, and degrees Celsius, NaN where none was made.
 * Rows of one log keep their order; logs may be mixed. `places` names the places with commas between, such as
 * "breast,thigh,wing". With NULL for `place` every row is of the first of them; with NULL for `places` as well, of
 * the core. A log at fault is no failure of the call: its verdict says so.
 *
 * `rows` has room for `logs` rows. `details`, which may be NULL, gets the reasons, rules, places and faults as a JSON
 * object of columns; free it with `poulter_buffer_free`. `error` may be NULL.
 */
poulter_status poulter_check_logs(const uint8_t *question,
                                  size_t question_len,
                                  const uint8_t *places,
                                  size_t places_len,
                                  const uint32_t *log,
                                  const uint32_t *place,
                                  const double *elapsed_s,
                                  const double *temp_degC,
                                  size_t len,
                                  size_t logs,
                                  struct poulter_log_row *rows,
                                  struct poulter_buffer *details,
                                  struct poulter_error *error);

/**
 * Frees what the buffer holds and sets it to `{NULL, 0}`. Does nothing with NULL or an empty buffer.
 */
void poulter_buffer_free(struct poulter_buffer *buffer);

/**
 * A number of the unit `from` as a number of the unit `to`; both are POULTER_UNIT_* of the same sort.
 *
 * Whole degrees that meet on both scales meet here: 41 °F is 5 °C. A number that is not finite is refused, and a
 * temperature below absolute zero. `error` may be NULL.
 */
poulter_status poulter_convert(double value,
                               uint32_t from,
                               uint32_t to,
                               double *out,
                               struct poulter_error *error);

/**
 * The same for `len` numbers. A NaN stays a NaN: what was missing stays missing.
 */
poulter_status poulter_convert_array(const double *values,
                                     size_t len,
                                     uint32_t from,
                                     uint32_t to,
                                     double *out,
                                     struct poulter_error *error);

/**
 * A new error object, to be passed to any number of calls, one at a time. Free it with `poulter_error_free`.
 */
struct poulter_error *poulter_error_new(void);

/**
 * Frees an error object and the texts it lent. Does nothing with NULL.
 */
void poulter_error_free(struct poulter_error *error);

/**
 * The status of the last call; `POULTER_STATUS_OK` when it succeeded, before any call, and for NULL.
 */
poulter_status poulter_error_code(const struct poulter_error *error);

/**
 * The path of the field at fault, such as `bird.mass`; empty when the whole request is.
 *
 * The text of this and of the four functions below lasts until the object is freed or passed to another call. It is
 * empty when there is no error, and for NULL.
 */
struct poulter_text poulter_error_field(const struct poulter_error *error);

/**
 * What was given, shortened when long.
 */
struct poulter_text poulter_error_given(const struct poulter_error *error);

/**
 * What is allowed.
 */
struct poulter_text poulter_error_expected(const struct poulter_error *error);

/**
 * All of it in one sentence, with what to do about it.
 */
struct poulter_text poulter_error_message(const struct poulter_error *error);

/**
 * All of it as one JSON object: `code`, `slug`, `message`, `field`, `given`, `expected`, `advice`, `citations`.
 */
struct poulter_text poulter_error_json(const struct poulter_error *error);

/**
 * Answers one request, a JSON object with `kind` and the fields of that kind; the answer is JSON too.
 *
 * `request` need not end in a zero byte. `out` is overwritten on success, without a look at what it held before, and
 * left alone otherwise. `error` may be NULL.
 *
 * The same request gives the same bytes in every language and on every machine.
 */
poulter_status poulter_evaluate_json(const uint8_t *request,
                                     size_t len,
                                     struct poulter_buffer *out,
                                     struct poulter_error *error);

/**
 * Adds up growth along a log of one place, in powers of ten, without lag and without a ceiling: the careful bound.
 *
 * The arrays are as for `poulter_lethality`, and a log at fault is refused in the same way. `model` is one of
 * POULTER_GROWTH_MODEL_*. The figure explains and is no verdict. `error` may be NULL.
 */
poulter_status poulter_growth(const double *elapsed_s,
                              const double *temp_degC,
                              size_t len,
                              uint32_t model,
                              double *log_growth,
                              struct poulter_error *error);

/**
 * Adds up the kill along a log of one place, in powers of ten; exact for straight lines between readings.
 *
 * `elapsed_s` and `temp_degC` hold `len` numbers each: seconds since the log began, and temperatures in degrees
 * Celsius. `scheme` is one of POULTER_SCHEME_*. A log at fault (a reading missing or out of range, time that does
 * not go forward, more than 15 min without a reading) is refused, and the message names its rows. The figure
 * explains and is no verdict. `error` may be NULL.
 */
poulter_status poulter_lethality(const double *elapsed_s,
                                 const double *temp_degC,
                                 size_t len,
                                 uint32_t scheme,
                                 double *log_reduction,
                                 struct poulter_error *error);

/**
 * A planner that plans by the built-in rules and `house_rules`, TOML text; NULL for none. Free it with
 * `poulter_planner_free`.
 *
 * House rules are read and checked once, here. `error` may be NULL.
 */
poulter_status poulter_planner_new(const uint8_t *house_rules,
                                   size_t len,
                                   struct poulter_planner **out,
                                   struct poulter_error *error);

/**
 * Frees a planner; its plans stay. Does nothing with NULL.
 */
void poulter_planner_free(struct poulter_planner *planner);

/**
 * Plans a dinner from an order in TOML or JSON. Free the plan with `poulter_plan_free`.
 *
 * An order that cannot be had is a plan that is not feasible, with what would make it so; it is no failure. `error`
 * may be NULL.
 */
poulter_status poulter_planner_plan(const struct poulter_planner *planner,
                                    const uint8_t *order,
                                    size_t len,
                                    struct poulter_plan **out,
                                    struct poulter_error *error);

/**
 * Frees a plan and the texts it lent. Does nothing with NULL.
 */
void poulter_plan_free(struct poulter_plan *plan);

/**
 * 1 when the dinner can be had safely at the hour asked, 0 when it cannot, and for NULL.
 */
uint32_t poulter_plan_is_feasible(const struct poulter_plan *plan);

/**
 * The whole answer, the bytes that `poulter_evaluate_json` gives; it lasts until the plan is freed. Empty for NULL.
 */
struct poulter_text poulter_plan_json(const struct poulter_plan *plan);

/**
 * How many steps the plan has; 0 when it is not feasible, and for NULL.
 */
size_t poulter_plan_step_count(const struct poulter_plan *plan);

/**
 * The step at `index`, counted from 0, in the order of the sheet. `error` may be NULL.
 */
poulter_status poulter_plan_step(const struct poulter_plan *plan,
                                 size_t index,
                                 struct poulter_step *out,
                                 struct poulter_error *error);

/**
 * Makes a handle from a `forecast` request in JSON; `kind` may be left out, and so may the readings. Free it with
 * `poulter_probe_free`.
 *
 * The ensemble is computed here, which takes a fraction of a second; everything after it is quick. `error` may be NULL.
 */
poulter_status poulter_probe_new(const uint8_t *request,
                                 size_t len,
                                 struct poulter_probe **out,
                                 struct poulter_error *error);

/**
 * Adds a reading: seconds since the roast went in, and degrees Celsius. `place` is one of POULTER_PROBE_PLACE_*.
 *
 * The readings of one place come in order of time. A reading that is refused changes nothing. `error` may be NULL.
 */
poulter_status poulter_probe_push(struct poulter_probe *probe,
                                  uint32_t place,
                                  double elapsed_s,
                                  double temp_degC,
                                  struct poulter_error *error);

/**
 * Verdict, kill and forecast from the readings so far. May be asked at any time and changes nothing. `error` may be
 * NULL.
 */
poulter_status poulter_probe_ask(const struct poulter_probe *probe,
                                 struct poulter_probe_state *out,
                                 struct poulter_error *error);

/**
 * The same in full, as JSON: the bytes that `poulter_evaluate_json` gives for the same roast and readings.
 */
poulter_status poulter_probe_ask_json(const struct poulter_probe *probe,
                                      struct poulter_buffer *out,
                                      struct poulter_error *error);

/**
 * Frees a handle. Does nothing with NULL.
 */
void poulter_probe_free(struct poulter_probe *probe);

/**
 * Simulates a thaw, a roast, a rest or cooling and writes the temperature of one place over time.
 *
 * `request` is a `simulate_*` request in JSON. `curve` counts the places of the answer from 0: of a roast or a rest the
 * slowest place first; of a thaw or cooling the centre, then the surface. `elapsed_s` and `temp_degC` take up to
 * `capacity` numbers each. `rows` is the number of rows; with both arrays NULL and `capacity` 0 it is all that is
 * written. Arrays that are too short are refused and left as they were. `error` may be NULL.
 */
poulter_status poulter_simulate(const uint8_t *request,
                                size_t len,
                                uint32_t curve,
                                double *elapsed_s,
                                double *temp_degC,
                                size_t capacity,
                                size_t *rows,
                                struct poulter_error *error);

/**
 * Simulates a roast, a rest or the cooling of meat and writes what was reckoned along the curve of one place.
 *
 * The rows are those of `poulter_simulate` for the same request and `curve`. `log10` takes up to `capacity` numbers, in
 * powers of ten: of a roast or a rest the kill so far, counted no further than its scheme's target; of cooling the
 * growth of Clostridium perfringens so far, without lag. Both explain and are no verdict. A thaw has neither, nor have
 * stock and gravy: they are refused. With `log10` NULL and `capacity` 0 only `rows` is written. An array that is too
 * short is refused and left as it was. `error` may be NULL.
 */
poulter_status poulter_simulate_log10(const uint8_t *request,
                                      size_t len,
                                      uint32_t curve,
                                      double *log10,
                                      size_t capacity,
                                      size_t *rows,
                                      struct poulter_error *error);

/**
 * How long a bird of `mass_kg` thaws by `method`, one of POULTER_THAW_METHOD_*.
 *
 * Refused with POULTER_STATUS_NO_PUBLISHED_ROW where no row is printed, and where the standard forbids the method; the
 * message then says why. `error` may be NULL.
 */
poulter_status poulter_thaw_time(uint32_t standard,
                                 uint32_t species,
                                 uint32_t cut,
                                 uint32_t method,
                                 double mass_kg,
                                 struct poulter_time *out,
                                 struct poulter_error *error);

/**
 * The same for `len` masses.
 */
poulter_status poulter_thaw_times(uint32_t standard,
                                  uint32_t species,
                                  uint32_t cut,
                                  uint32_t method,
                                  const double *mass_kg,
                                  size_t len,
                                  struct poulter_time *out,
                                  struct poulter_error *error);

/**
 * How long a thawed bird of `mass_kg` roasts in a steady oven at sea level; `stuffed` is 0 or 1.
 *
 * The thermometer decides, never the time. Refused with POULTER_STATUS_NO_PUBLISHED_ROW where no row is printed.
 * `error` may be NULL.
 */
poulter_status poulter_roast_time(uint32_t standard,
                                  uint32_t species,
                                  uint32_t cut,
                                  uint32_t stuffed,
                                  double mass_kg,
                                  struct poulter_time *out,
                                  struct poulter_error *error);

/**
 * The same for `len` masses.
 */
poulter_status poulter_roast_times(uint32_t standard,
                                   uint32_t species,
                                   uint32_t cut,
                                   uint32_t stuffed,
                                   const double *mass_kg,
                                   size_t len,
                                   struct poulter_time *out,
                                   struct poulter_error *error);

/**
 * The minimum temperature inside; of the stuffing where `stuffing` is not 0.
 *
 * Refused with POULTER_STATUS_NO_PUBLISHED_ROW where the standard names none. `error` may be NULL.
 */
poulter_status poulter_minimum_temperature(uint32_t standard,
                                           uint32_t species,
                                           uint32_t cut,
                                           uint32_t stuffing,
                                           struct poulter_minimum *out,
                                           struct poulter_error *error);

/**
 * The version of the library that was loaded, such as "1.2.3"; never freed. Compare it with `POULTER_VERSION`.
 */
const char *poulter_version(void);

/**
 * The binary interface of the library that was loaded. It must equal `POULTER_ABI_VERSION`.
 */
uint32_t poulter_abi_version(void);

/**
 * Plans an order and writes a sheet of it.
 *
 * `order` is a JSON object of `order_len` bytes with the fields of the request `plan`; `house_rules` may stand beside
 * them. `kind` and `format` are words that end in a zero byte: host, class, key, shopping, labels or cards; and text,
 * markdown, html, csv, xlsx, or ics for host, class and labels. Every format but xlsx is UTF-8 text.
 *
 * `out` is overwritten on success, without a look at what it held before, and left alone otherwise. `error` may be
 * NULL. A dinner that is not possible is a sheet that says so, with status 0.
 */
poulter_status poulter_worksheet(const uint8_t *order,
                                 size_t order_len,
                                 const char *kind,
                                 const char *format,
                                 struct poulter_buffer *out,
                                 struct poulter_error *error);

#ifdef __cplusplus
}  // extern "C"
#endif  // __cplusplus

#endif  /* POULTER_H */
