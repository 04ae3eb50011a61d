/* The direct calls and the planner from C: printed numbers, refusals, NULL, arrays, and outputs left alone on failure. */
#include <poulter.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define CHECK(condition)                                                          \
    do {                                                                          \
        if (!(condition)) {                                                       \
            fprintf(stderr, "%s:%d: not so: %s\n", __FILE__, __LINE__, #condition); \
            exit(2);                                                              \
        }                                                                         \
    } while (0)

/* The recorded layout: a change here is a new binary interface. */
#define FIELD(type, field, at) _Static_assert(offsetof(struct type, field) == at, #type "." #field)
#if defined(__LP64__)
_Static_assert(sizeof(struct poulter_time) == 24, "size of poulter_time");
FIELD(poulter_time, low_s, 0);
FIELD(poulter_time, likely_s, 8);
FIELD(poulter_time, high_s, 16);
_Static_assert(sizeof(struct poulter_minimum) == 32, "size of poulter_minimum");
FIELD(poulter_minimum, temp_degC, 0);
FIELD(poulter_minimum, temp_degF, 8);
FIELD(poulter_minimum, hold_s, 16);
FIELD(poulter_minimum, comparison, 24);
FIELD(poulter_minimum, binds_in_fahrenheit, 28);
_Static_assert(sizeof(struct poulter_step) == 128, "size of poulter_step");
FIELD(poulter_step, id, 0);
FIELD(poulter_step, title, 16);
FIELD(poulter_step, earliest, 32);
FIELD(poulter_step, planned, 48);
FIELD(poulter_step, latest, 64);
FIELD(poulter_step, earliest_unix_s, 80);
FIELD(poulter_step, planned_unix_s, 88);
FIELD(poulter_step, latest_unix_s, 96);
FIELD(poulter_step, duration, 104);
#endif

#define US POULTER_STANDARD_US_CONSUMER
#define TURKEY POULTER_SPECIES_TURKEY
#define WHOLE POULTER_CUT_WHOLE
#define LB 0.45359237

static void field_is(const struct poulter_error *error, const char *expected)
{
    struct poulter_text field = poulter_error_field(error);
    CHECK(field.len == strlen(expected) && memcmp(field.data, expected, field.len) == 0);
}

/* International yard and pound agreement of 1959; 41 and 140 degrees Fahrenheit are 5 and 60 Celsius exactly. */
static void check_conversion(struct poulter_error *error)
{
    double out = -1.0;
    CHECK(poulter_convert(41.0, POULTER_UNIT_FAHRENHEIT, POULTER_UNIT_CELSIUS, &out, error) == POULTER_STATUS_OK);
    CHECK(out == 5.0);
    CHECK(poulter_convert(1.0, POULTER_UNIT_POUND, POULTER_UNIT_GRAM, &out, NULL) == POULTER_STATUS_OK);
    CHECK(out == 453.59237);
    out = -1.0;
    CHECK(poulter_convert(1.0, POULTER_UNIT_POUND, POULTER_UNIT_HOUR, &out, error) == POULTER_STATUS_UNIT_UNKNOWN);
    field_is(error, "to");
    CHECK(poulter_convert(NAN, POULTER_UNIT_POUND, POULTER_UNIT_GRAM, &out, error) == POULTER_STATUS_OUT_OF_RANGE);
    CHECK(poulter_convert(1.0, 0, POULTER_UNIT_GRAM, &out, error) == POULTER_STATUS_UNKNOWN_VALUE);
    field_is(error, "from");
    CHECK(poulter_convert(1.0, POULTER_UNIT_GRAM, POULTER_UNIT_GRAM, NULL, error) == POULTER_STATUS_NULL_POINTER);
    CHECK(out == -1.0);

    double log[] = {32.0, NAN, 140.0};
    CHECK(poulter_convert_array(log, 3, POULTER_UNIT_FAHRENHEIT, POULTER_UNIT_CELSIUS, log, error) == 0);
    CHECK(log[0] == 0.0 && isnan(log[1]) && log[2] == 60.0);
    double bad[] = {1.0, 2.0, INFINITY};
    CHECK(poulter_convert_array(bad, 3, POULTER_UNIT_GRAM, POULTER_UNIT_KILOGRAM, bad, error) ==
          POULTER_STATUS_OUT_OF_RANGE);
    field_is(error, "values[2].value");
    CHECK(bad[0] == 1.0 && bad[1] == 2.0);
    CHECK(poulter_convert_array(NULL, 3, 1, 2, bad, error) == POULTER_STATUS_NULL_POINTER);
    CHECK(poulter_convert_array(bad, 3, 1, 2, NULL, error) == POULTER_STATUS_NULL_POINTER);
    CHECK(poulter_convert_array(bad, SIZE_MAX / 2, 1, 2, bad, error) == POULTER_STATUS_TOO_LARGE);
    CHECK(poulter_convert_array(bad, 0, POULTER_UNIT_GRAM, POULTER_UNIT_KILOGRAM, bad, error) == POULTER_STATUS_OK);
}

/* FSIS, Turkey Basics: 12 to 16 lb thaw 3 to 4 days; 12 to 14 lb unstuffed roast 3 to 3 3/4 h. */
static void check_times(struct poulter_error *error)
{
    const struct poulter_time untouched = {-1.0, -2.0, -3.0};
    struct poulter_time time = untouched;
    CHECK(poulter_thaw_time(US, TURKEY, WHOLE, POULTER_THAW_METHOD_REFRIGERATOR, 15 * LB, &time, error) == 0);
    CHECK(time.low_s == 3 * 86400.0 && time.high_s == 4 * 86400.0);
    CHECK(time.low_s <= time.likely_s && time.likely_s <= time.high_s);
    CHECK(poulter_roast_time(US, TURKEY, WHOLE, 0, 13 * LB, &time, NULL) == POULTER_STATUS_OK);
    CHECK(time.low_s == 3 * 3600.0 && time.high_s == 3.75 * 3600.0);
    time = untouched;
    CHECK(poulter_thaw_time(US, TURKEY, WHOLE, POULTER_THAW_METHOD_ROOM_TEMPERATURE, 15 * LB, &time, error) ==
          POULTER_STATUS_NO_PUBLISHED_ROW);
    field_is(error, "method");
    CHECK(poulter_thaw_time(US, TURKEY, WHOLE, 9, 15 * LB, &time, error) == POULTER_STATUS_UNKNOWN_VALUE);
    field_is(error, "method");
    CHECK(poulter_thaw_time(US, TURKEY, WHOLE, 1, -1.0, &time, error) == POULTER_STATUS_OUT_OF_RANGE);
    field_is(error, "mass_kg");
    CHECK(poulter_thaw_time(US, TURKEY, WHOLE, 1, NAN, &time, error) == POULTER_STATUS_OUT_OF_RANGE);
    CHECK(poulter_thaw_time(0, TURKEY, WHOLE, 1, 5.0, &time, error) == POULTER_STATUS_UNKNOWN_VALUE);
    field_is(error, "standard");
    CHECK(poulter_roast_time(US, 0, WHOLE, 0, 5.0, &time, error) == POULTER_STATUS_UNKNOWN_VALUE);
    field_is(error, "species");
    CHECK(poulter_roast_time(US, TURKEY, 99, 0, 5.0, &time, error) == POULTER_STATUS_UNKNOWN_VALUE);
    field_is(error, "cut");
    CHECK(poulter_roast_time(US, TURKEY, WHOLE, 0, 24.001 * LB, &time, error) == POULTER_STATUS_NO_PUBLISHED_ROW);
    CHECK(memcmp(&time, &untouched, sizeof time) == 0);
    CHECK(poulter_thaw_time(US, TURKEY, WHOLE, 1, 5.0, NULL, error) == POULTER_STATUS_NULL_POINTER);
    CHECK(poulter_roast_time(US, TURKEY, WHOLE, 0, 5.0, NULL, error) == POULTER_STATUS_NULL_POINTER);

    const double masses[] = {12 * LB, 13 * LB, 24 * LB};
    struct poulter_time times[3];
    CHECK(poulter_roast_times(US, TURKEY, WHOLE, 0, masses, 3, times, error) == POULTER_STATUS_OK);
    CHECK(times[1].low_s == 3 * 3600.0 && times[2].high_s == 5 * 3600.0);
    CHECK(poulter_thaw_times(US, TURKEY, WHOLE, POULTER_THAW_METHOD_COLD_WATER, masses, 3, times, error) == 0);
    const double beyond[] = {12 * LB, 25 * LB};
    times[0] = untouched;
    CHECK(poulter_thaw_times(US, TURKEY, WHOLE, POULTER_THAW_METHOD_REFRIGERATOR, beyond, 2, times, error) ==
          POULTER_STATUS_NO_PUBLISHED_ROW);
    field_is(error, "mass_kg[1].mass");
    CHECK(memcmp(&times[0], &untouched, sizeof untouched) == 0);
    CHECK(poulter_roast_times(US, TURKEY, WHOLE, 0, NULL, 3, times, error) == POULTER_STATUS_NULL_POINTER);
    CHECK(poulter_thaw_times(US, TURKEY, WHOLE, 1, masses, 3, NULL, error) == POULTER_STATUS_NULL_POINTER);
}

/* FSIS: 165 degrees Fahrenheit; FSA: 70 degrees Celsius for 2 minutes. */
static void check_minimum(struct poulter_error *error)
{
    struct poulter_minimum minimum;
    CHECK(poulter_minimum_temperature(US, TURKEY, WHOLE, 0, &minimum, error) == POULTER_STATUS_OK);
    CHECK(minimum.temp_degF == 165.0 && minimum.hold_s == 0.0 && minimum.binds_in_fahrenheit == 1);
    CHECK(minimum.comparison == POULTER_COMPARISON_AT_LEAST);
    CHECK(poulter_minimum_temperature(POULTER_STANDARD_UK, TURKEY, WHOLE, 0, &minimum, error) == POULTER_STATUS_OK);
    CHECK(minimum.temp_degC == 70.0 && minimum.hold_s == 120.0 && minimum.binds_in_fahrenheit == 0);
    CHECK(poulter_minimum_temperature(US, TURKEY, WHOLE, 0, NULL, error) == POULTER_STATUS_NULL_POINTER);
}

/* FSIS: 1 lb for a person. The brine by the government's ratio: 3/4 cup of salt, 292 g a cup, for each gallon. */
static void check_amounts(struct poulter_error *error)
{
    double mass = -1.0;
    CHECK(poulter_purchase_mass(US, TURKEY, WHOLE, 10, 0, POULTER_LEFTOVERS_NONE, &mass, error) == POULTER_STATUS_OK);
    CHECK(fabs(mass - 10 * LB) < 1e-9);
    CHECK(poulter_wet_brine_salt(US, TURKEY, WHOLE, 2 * 3.785411784, &mass, error) == POULTER_STATUS_OK);
    CHECK(fabs(mass - 0.438) < 1e-6);
    CHECK(poulter_dry_brine_salt(US, TURKEY, WHOLE, POULTER_SALT_KIND_KOSHER_FLAKE, 5.0, &mass, error) == 0);
    CHECK(mass > 0.0 && mass < 0.05 * 5.0);
    mass = -1.0;
    CHECK(poulter_purchase_mass(US, TURKEY, WHOLE, 0, 0, 1, &mass, error) == POULTER_STATUS_MISSING_FIELD);
    CHECK(poulter_purchase_mass(US, TURKEY, WHOLE, 1001, 0, 1, &mass, error) == POULTER_STATUS_OUT_OF_RANGE);
    CHECK(poulter_purchase_mass(US, TURKEY, WHOLE, 1, 0, 4, &mass, error) == POULTER_STATUS_UNKNOWN_VALUE);
    field_is(error, "leftovers");
    CHECK(poulter_wet_brine_salt(US, TURKEY, WHOLE, 0.0, &mass, error) == POULTER_STATUS_OUT_OF_RANGE);
    CHECK(poulter_dry_brine_salt(US, TURKEY, WHOLE, 5, 5.0, &mass, error) == POULTER_STATUS_UNKNOWN_VALUE);
    field_is(error, "kind");
    CHECK(poulter_dry_brine_salt(US, TURKEY, WHOLE, 1, 0.0, &mass, error) == POULTER_STATUS_OUT_OF_RANGE);
    CHECK(mass == -1.0);
    CHECK(poulter_purchase_mass(US, TURKEY, WHOLE, 1, 0, 1, NULL, error) == POULTER_STATUS_NULL_POINTER);
    CHECK(poulter_wet_brine_salt(US, TURKEY, WHOLE, 1.0, NULL, error) == POULTER_STATUS_NULL_POINTER);
    CHECK(poulter_dry_brine_salt(US, TURKEY, WHOLE, 1, 1.0, NULL, error) == POULTER_STATUS_NULL_POINTER);

    const uint32_t adults[] = {10, 4}, children[] = {0, 2};
    double masses[2];
    CHECK(poulter_purchase_masses(US, TURKEY, WHOLE, adults, children, 2, POULTER_LEFTOVERS_NONE, masses, error) == 0);
    CHECK(fabs(masses[0] - 10 * LB) < 1e-9 && fabs(masses[1] - 5 * LB) < 1e-9);
    const double water[] = {3.785411784, 2 * 3.785411784};
    CHECK(poulter_wet_brine_salts(US, TURKEY, WHOLE, water, 2, masses, error) == POULTER_STATUS_OK);
    CHECK(fabs(masses[0] - 0.219) < 1e-6 && fabs(masses[1] - 0.438) < 1e-6);
    CHECK(poulter_dry_brine_salts(US, TURKEY, WHOLE, 1, water, 2, masses, error) == POULTER_STATUS_OK);
    CHECK(poulter_purchase_masses(US, TURKEY, WHOLE, NULL, children, 2, 1, masses, error) == 1);
    CHECK(poulter_purchase_masses(US, TURKEY, WHOLE, adults, NULL, 2, 1, masses, error) == 1);
    CHECK(poulter_wet_brine_salts(US, TURKEY, WHOLE, NULL, 2, masses, error) == POULTER_STATUS_NULL_POINTER);
    CHECK(poulter_dry_brine_salts(US, TURKEY, WHOLE, 1, water, 2, NULL, error) == POULTER_STATUS_NULL_POINTER);
}

#define ORDER                                                                                                \
    "serve_at = \"2026-12-19T18:30[Europe/Lisbon]\"\nnow = \"2026-12-13T09:00[Europe/Lisbon]\"\n"            \
    "guests = { adults = 11 }\nbird = { species = \"turkey\", mass = \"6.8 kg\", state = \"frozen\" }\n"
#define HOUSE "[[rule]]\nid = \"nowhere.hold.hot\"\n"

static void check_planner(struct poulter_error *error)
{
    const uint8_t *order = (const uint8_t *)ORDER;
    struct poulter_planner *planner = NULL;
    struct poulter_plan *plan = NULL;
    struct poulter_step step = {.planned_unix_s = -7};
    CHECK(poulter_planner_new((const uint8_t *)HOUSE, strlen(HOUSE), &planner, error) == POULTER_STATUS_RULE_INVALID);
    CHECK(planner == NULL && strncmp(poulter_error_field(error).data, "house_rules", 11) == 0);
    CHECK(poulter_planner_new(NULL, 0, NULL, error) == POULTER_STATUS_NULL_POINTER);
    CHECK(poulter_planner_new(NULL, 0, &planner, error) == POULTER_STATUS_OK);

    CHECK(poulter_planner_plan(NULL, order, strlen(ORDER), &plan, error) == POULTER_STATUS_NULL_POINTER);
    field_is(error, "planner");
    CHECK(poulter_planner_plan(planner, NULL, 0, &plan, error) == POULTER_STATUS_NULL_POINTER);
    field_is(error, "order");
    CHECK(poulter_planner_plan(planner, order, strlen(ORDER), NULL, error) == POULTER_STATUS_NULL_POINTER);
    CHECK(poulter_planner_plan(planner, order, 10, &plan, error) == POULTER_STATUS_MALFORMED);
    CHECK(plan == NULL);
    CHECK(poulter_planner_plan(planner, order, strlen(ORDER), &plan, error) == POULTER_STATUS_OK);
    poulter_planner_free(planner);

    CHECK(poulter_plan_is_feasible(plan) == 1);
    size_t count = poulter_plan_step_count(plan);
    CHECK(count > 5);
    struct poulter_text json = poulter_plan_json(plan);
    CHECK(strlen(json.data) == json.len && strncmp(json.data, "{\"kind\":\"plan\"", 14) == 0);
    CHECK(poulter_plan_step(plan, count, &step, error) == POULTER_STATUS_OUT_OF_RANGE);
    field_is(error, "index");
    CHECK(step.planned_unix_s == -7);
    CHECK(poulter_plan_step(plan, 0, NULL, error) == POULTER_STATUS_NULL_POINTER);
    int64_t before = 0;
    for (size_t index = 0; index < count; index++) {
        CHECK(poulter_plan_step(plan, index, &step, error) == POULTER_STATUS_OK);
        CHECK(step.earliest_unix_s <= step.planned_unix_s && step.planned_unix_s <= step.latest_unix_s);
        CHECK(step.planned_unix_s >= before);
        before = step.planned_unix_s;
        CHECK(strstr(step.planned.data, "[Europe/Lisbon]") != NULL && strlen(step.id.data) == step.id.len);
        CHECK(strstr(json.data, step.planned.data) != NULL);
    }
    poulter_plan_free(plan);

    CHECK(poulter_plan_is_feasible(NULL) == 0 && poulter_plan_step_count(NULL) == 0);
    CHECK(poulter_plan_json(NULL).len == 0);
    CHECK(poulter_plan_step(NULL, 0, &step, error) == POULTER_STATUS_NULL_POINTER);
    poulter_plan_free(NULL);
    poulter_planner_free(NULL);
}

/* Bytes that are no UTF-8, impossible lengths, NULL and numbers that are none, at every other way in. */
static void check_hostile(struct poulter_error *error)
{
    static const uint8_t bad[] = {0xFF, 0xFE, '{'};
    const size_t impossible[] = {SIZE_MAX, SIZE_MAX / 2 + 1};
    const double numbers[] = {0.0, NAN};
    const uint32_t log[] = {0, 0};
    struct poulter_buffer buffer = {NULL, 7};
    struct poulter_probe *probe = NULL;
    struct poulter_planner *planner = NULL;
    struct poulter_log_row row = {.verdict = 77};
    double out = -1.0;
    size_t rows = 77;
    CHECK(poulter_evaluate_json(bad, sizeof bad, &buffer, error) == POULTER_STATUS_NOT_UTF8);
    CHECK(poulter_probe_new(bad, sizeof bad, &probe, error) == POULTER_STATUS_NOT_UTF8);
    CHECK(poulter_planner_new(bad, sizeof bad, &planner, error) == POULTER_STATUS_NOT_UTF8);
    CHECK(poulter_worksheet(bad, sizeof bad, "host", "text", &buffer, error) == POULTER_STATUS_NOT_UTF8);
    CHECK(poulter_worksheet((const uint8_t *)"{}", 2, "\xFF", "text", &buffer, error) == POULTER_STATUS_NOT_UTF8);
    CHECK(poulter_worksheet((const uint8_t *)"{}", 2, NULL, "text", &buffer, error) == POULTER_STATUS_NULL_POINTER);
    field_is(error, "kind");
    CHECK(poulter_simulate(bad, sizeof bad, 0, NULL, NULL, 0, &rows, error) == POULTER_STATUS_NOT_UTF8);
    CHECK(poulter_check_logs(bad, sizeof bad, NULL, 0, log, NULL, numbers, numbers, 2, 1, &row, NULL, error) ==
          POULTER_STATUS_NOT_UTF8);
    for (size_t at = 0; at < 2; at++) {
        const size_t len = impossible[at];
        CHECK(poulter_evaluate_json(bad, len, &buffer, error) == POULTER_STATUS_TOO_LARGE);
        CHECK(poulter_probe_new(bad, len, &probe, error) == POULTER_STATUS_TOO_LARGE);
        CHECK(poulter_planner_new(bad, len, &planner, error) == POULTER_STATUS_TOO_LARGE);
        CHECK(poulter_lethality(numbers, numbers, len, 1, &out, error) == POULTER_STATUS_TOO_LARGE);
        CHECK(poulter_growth(numbers, numbers, len, 1, &out, error) == POULTER_STATUS_TOO_LARGE);
        CHECK(poulter_check_logs((const uint8_t *)"{\"check\":\"cooking\"}", 19, NULL, 0, log, NULL, numbers, numbers, len, 1,
                                 &row, NULL, error) == POULTER_STATUS_TOO_LARGE);
    }
    CHECK(poulter_lethality(NULL, numbers, 2, 1, &out, error) == POULTER_STATUS_NULL_POINTER);
    CHECK(poulter_lethality(numbers, numbers, 2, 0, &out, error) == POULTER_STATUS_UNKNOWN_VALUE);
    CHECK(poulter_lethality(numbers, numbers, 2, 1, &out, error) != POULTER_STATUS_OK);
    CHECK(poulter_growth(numbers, numbers, 2, 2, &out, error) == POULTER_STATUS_UNKNOWN_VALUE);
    CHECK(poulter_growth(numbers, NULL, 2, 1, &out, NULL) == POULTER_STATUS_NULL_POINTER);
    CHECK(poulter_check_logs(NULL, 0, NULL, 0, log, NULL, numbers, numbers, 2, 1, &row, NULL, NULL) ==
          POULTER_STATUS_NULL_POINTER);
    CHECK(buffer.data == NULL && buffer.len == 7 && probe == NULL && planner == NULL);
    CHECK(out == -1.0 && rows == 77 && row.verdict == 77);
}

int main(void)
{
    struct poulter_error *error = poulter_error_new();
    CHECK(error != NULL);
    check_hostile(error);
    check_conversion(error);
    check_times(error);
    check_minimum(error);
    check_amounts(error);
    check_planner(error);
    poulter_error_free(error);
    return 0;
}
