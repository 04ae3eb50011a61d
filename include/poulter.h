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
 * Text       In: a pointer and a length in bytes, UTF-8, with or without a closing zero. Out: poulter_buffer when it is
 *            the caller's to free, poulter_text when it is lent. Both are followed by a zero byte that len leaves out.
 * Errors     The caller makes a poulter_error, lends it to a call and reads it after a failure. Each call that gets it
 *            replaces what it held; success empties it. There is no error state outside this object.
 * Ownership  What a function of this library hands over is freed by the function named in its description, never by
 *            free(). Nothing that the caller passes in is kept after the call.
 * Threads    Every function may be called from any thread. One object serves one thread at a time.
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

#ifdef __cplusplus
extern "C" {
#endif // __cplusplus

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
 * The version of the library that was loaded, such as "1.2.3"; never freed. Compare it with `POULTER_VERSION`.
 */
const char *poulter_version(void);

/**
 * The binary interface of the library that was loaded. It must equal `POULTER_ABI_VERSION`.
 */
uint32_t poulter_abi_version(void);

#ifdef __cplusplus
}  // extern "C"
#endif  // __cplusplus

#endif  /* POULTER_H */
