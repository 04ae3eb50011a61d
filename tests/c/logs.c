/* Many logs judged at once, and growth along one, from arrays. */
#include <poulter.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

static int fail(const char *what) {
    fprintf(stderr, "logs.c: %s\n", what);
    return 1;
}

int main(void) {
    /* FSIS: 165 degF is 73.889 degC to the thousandth above it. Log 0 is under it, 1 at it, 2 lacks a reading. */
    const uint32_t log[] = {0, 1, 2, 0, 1, 2};
    const double elapsed_s[] = {0, 0, 0, 60, 60, 60};
    double temp_degC[] = {70, 70, 70, 73.888, 73.889, 0};
    const char *question = "{\"check\":\"cooking\",\"cut\":\"boneless-breast\"}";
    struct poulter_log_row rows[3];
    struct poulter_buffer details = {NULL, 0};
    temp_degC[5] = (double)NAN;
    if (poulter_check_logs((const uint8_t *)question, strlen(question), NULL, 0, log, NULL, elapsed_s, temp_degC, 6, 3,
                           rows, &details, NULL) != POULTER_STATUS_OK)
        return fail("the logs were refused");
    if (rows[0].verdict != POULTER_VERDICT_FAILS || rows[1].verdict != POULTER_VERDICT_MEETS ||
        rows[2].verdict != POULTER_VERDICT_CANNOT_TELL)
        return fail("the verdicts are wrong");
    if (rows[2].fault_row != 2 || !isnan(rows[2].reduction_log10) || !(rows[0].margin_k < 0))
        return fail("fault, kill or margin is wrong");
    if (strstr((const char *)details.data, "\"fault\":[null,null,\"no-reading\"]") == NULL)
        return fail("the details do not name the fault");
    poulter_buffer_free(&details);

    rows[0].verdict = 77;
    if (poulter_check_logs((const uint8_t *)question, strlen(question), NULL, 0, log, NULL, elapsed_s, temp_degC, 6, 2,
                           rows, NULL, NULL) == POULTER_STATUS_OK ||
        rows[0].verdict != 77)
        return fail("a log without room was judged");

    /* No growth above 51.5 degC or below 8.8 degC, the ends of the published model. */
    const double cold_s[] = {0, 600};
    const double cold[] = {4, 5};
    double growth = -1;
    if (poulter_growth(cold_s, cold, 2, POULTER_GROWTH_MODEL_PERFRINGENS_ROASTED_CHICKEN, &growth, NULL) !=
            POULTER_STATUS_OK ||
        !(growth >= 0 && growth <= 0))
        return fail("cold food grew");
    return 0;
}
