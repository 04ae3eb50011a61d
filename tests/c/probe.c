/* A probe read minute by minute, and a simulated curve in arrays of this program's. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <poulter.h>

static int failed = 0;

static void check(int fine, const char *what) {
    if (!fine) {
        fprintf(stderr, "failed: %s\n", what);
        failed = 1;
    }
}

int main(void) {
    static const char roast[] =
        "{\"roast\":{\"mass\":\"12 lb\",\"start\":\"40 degF\",\"target\":\"165 degF\","
        "\"oven\":[{\"temperature\":\"325 degF\"}]},\"members\":200,"
        "\"probes\":[{\"place\":\"breast\"},{\"place\":\"oven\"}]}";
    static const char simulated[] =
        "{\"kind\":\"simulate_roast\",\"mass\":\"12 lb\",\"start\":\"40 degF\",\"target\":\"165 degF\","
        "\"oven\":[{\"temperature\":\"325 degF\"}]}";
    struct poulter_error *error = poulter_error_new();
    struct poulter_probe *probe = NULL;
    struct poulter_probe_state state;
    static const char cooled[] =
        "{\"kind\":\"simulate_cooling\",\"food\":{\"kind\":\"carved\",\"depth\":\"2 in\",\"cooled_from\":\"one-face\"},"
        "\"start\":\"140 degF\",\"thresholds\":[\"70 degF\"],"
        "\"stages\":[{\"surroundings\":{\"kind\":\"refrigerator\",\"temperature\":\"38 degF\"},\"duration\":\"8 h\"}]}";
    double elapsed_s[200], temp_degC[200], log10s[200];
    size_t beside = 0;
    size_t rows = 0;

    check(poulter_simulate((const uint8_t *)simulated, strlen(simulated), 0, NULL, NULL, 0, &rows, error) == 0,
          "the rows are counted");
    check(rows > 10 && rows <= 200, "a roast has a row every five minutes");
    check(poulter_simulate((const uint8_t *)simulated, strlen(simulated), 0, elapsed_s, temp_degC, 200, &rows,
                           error) == 0,
          "the curve is written");
    check(fabs(temp_degC[0] - 4.444) < 0.01, "it starts at 40 degF");
    check(poulter_simulate((const uint8_t *)simulated, strlen(simulated), 0, elapsed_s, temp_degC, 3, &rows,
                           error) == POULTER_STATUS_OUT_OF_RANGE,
          "arrays that are too short are refused");
    check(poulter_simulate_log10((const uint8_t *)simulated, strlen(simulated), 0, NULL, 0, &beside, error) == 0 &&
              beside == rows,
          "the kill has the rows of the curve");
    check(poulter_simulate_log10((const uint8_t *)simulated, strlen(simulated), 0, log10s, 200, &beside, error) == 0,
          "the kill is written");
    check(log10s[0] == 0.0 && log10s[rows - 1] == 7.0, "it ends at the 7 log10 of its scheme and goes no further");
    for (size_t row = 1; row < rows; row++) {
        check(log10s[row] >= log10s[row - 1], "kill only grows");
    }
    check(poulter_simulate_log10((const uint8_t *)cooled, strlen(cooled), 0, log10s, 200, &beside, error) == 0 &&
              log10s[beside - 1] > 0.0,
          "growth along cooling is written");
    check(poulter_simulate_log10((const uint8_t *)cooled, strlen(cooled), 0, log10s, 3, &beside, error) ==
              POULTER_STATUS_OUT_OF_RANGE,
          "an array that is too short is refused");

    check(poulter_probe_new((const uint8_t *)roast, strlen(roast), &probe, error) == 0, "a probe is made");
    for (size_t row = 1; row < rows && elapsed_s[row] <= 7200.0; row++) {
        check(poulter_probe_push(probe, POULTER_PROBE_PLACE_BREAST, elapsed_s[row], temp_degC[row], error) == 0,
              "a reading is taken");
    }
    check(poulter_probe_ask(probe, &state, error) == 0, "the state is told");
    check(state.verdict == POULTER_VERDICT_FAILS, "the bird is not done");
    check(state.low_s < state.likely_s && state.likely_s < state.high_s, "the band is in order");
    check(fabs(state.likely_s - elapsed_s[rows - 1]) < 1800.0, "the finish is that of the curve, within half an hour");
    check(poulter_probe_push(probe, POULTER_PROBE_PLACE_OVEN, 7200.0, 60.0, error) == 0, "the oven is read");
    check(poulter_probe_push(probe, POULTER_PROBE_PLACE_OVEN, 8400.0, 40.0, error) == 0, "and again");
    check(poulter_probe_ask(probe, &state, error) == 0, "the state is told again");
    check(state.findings == 1 && isnan(state.likely_s), "an oven that is off leaves no time");
    check(poulter_probe_push(probe, POULTER_PROBE_PLACE_BREAST, 60.0, 10.0, error) == POULTER_STATUS_OUT_OF_RANGE,
          "time only runs forward");

    poulter_probe_free(probe);
    poulter_error_free(error);
    return failed;
}
