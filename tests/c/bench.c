/* Nanoseconds a call, the best of many rounds, beside an empty call through the library's border. */
#define _POSIX_C_SOURCE 199309L
#include <poulter.h>

#include <stdio.h>
#include <string.h>
#include <time.h>

#define LB 0.45359237
#define US POULTER_STANDARD_US_CONSUMER, POULTER_SPECIES_TURKEY, POULTER_CUT_WHOLE

static double now_ns(void)
{
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return time.tv_sec * 1e9 + time.tv_nsec;
}

static double base;
static int missed;

#define BENCH(name, limit_ns, rounds, ...)                                                              \
    do {                                                                                                \
        double best = 1e18;                                                                             \
        for (int round = 0; round < 30; round++) {                                                      \
            double start = now_ns();                                                                    \
            for (int i = 0; i < (rounds); i++) {                                                        \
                failures += (__VA_ARGS__) != 0;                                                         \
            }                                                                                           \
            double each = (now_ns() - start) / (rounds);                                                \
            best = each < best ? each : best;                                                           \
        }                                                                                               \
        if ((limit_ns) == 0) base = best;                                                               \
        printf("%-44s %10.1f ns %8.1fx", name, best, best / base);                                      \
        if ((limit_ns) > 0) {                                                                           \
            printf("   to reach %6.0f ns%s", (double)(limit_ns), best <= (limit_ns) ? "" : "  MISSED"); \
            missed += best > (limit_ns);                                                                \
        }                                                                                               \
        putchar('\n');                                                                                  \
    } while (0)

int main(void)
{
    static double values[1000], out[1000];
    static struct poulter_time times[1000];
    for (int i = 0; i < 1000; i++) {
        values[i] = 4.0 + 0.006 * i;
    }
    int failures = 0;
    double x = 0;
    struct poulter_time time;
    struct poulter_minimum minimum;
    struct poulter_error *error = poulter_error_new();
    struct poulter_buffer buffer = {NULL, 0};
    const char *ask = "{\"kind\":\"thaw_time\",\"mass\":\"15 lb\",\"method\":\"refrigerator\"}";
    const char *check = "{\"kind\":\"check_cooking\",\"readings\":{\"breast\":\"168 \xC2\xB0" "F\",\"thigh\":\"164.9 \xC2\xB0" "F\"}}";
#define MASS values[i % 1000]
    BENCH("an empty call (poulter_abi_version)", 0, 1000000, poulter_abi_version() != 1);
    BENCH("poulter_convert, degF to degC", 10, 1000000, poulter_convert(MASS, 2, 1, &x, error));
    BENCH("poulter_convert, lb to kg", 10, 1000000, poulter_convert(MASS, 9, 6, &x, error));
    BENCH("poulter_minimum_temperature", 10, 1000000, poulter_minimum_temperature(US, 0, &minimum, error));
    BENCH("poulter_thaw_time, refrigerator", 10, 1000000, poulter_thaw_time(US, 1, MASS, &time, error));
    BENCH("poulter_thaw_time, cold water", 10, 1000000, poulter_thaw_time(US, 2, MASS, &time, error));
    BENCH("poulter_roast_time", 10, 1000000, poulter_roast_time(US, 0, MASS, &time, error));
    BENCH("poulter_purchase_mass", 10, 1000000, poulter_purchase_mass(US, 10 + i % 9, 3, 1, &x, error));
    BENCH("poulter_wet_brine_salt", 10, 1000000, poulter_wet_brine_salt(US, MASS, &x, error));
    BENCH("poulter_dry_brine_salt", 10, 1000000, poulter_dry_brine_salt(US, 3, MASS, &x, error));
    BENCH("poulter_convert_array, 1000 numbers", -1, 1000, poulter_convert_array(values, 1000, 2, 1, out, error));
    BENCH("poulter_roast_times, 1000 masses", -1, 1000, poulter_roast_times(US, 0, values, 1000, times, error));
    BENCH("poulter_evaluate_json, thaw_time", 20000, 2000,
          poulter_evaluate_json((const uint8_t *)ask, strlen(ask), &buffer, error) + (poulter_buffer_free(&buffer), 0));
    BENCH("poulter_evaluate_json, check_cooking", 20000, 2000,
          poulter_evaluate_json((const uint8_t *)check, strlen(check), &buffer, error) +
              (poulter_buffer_free(&buffer), 0));
    poulter_error_free(error);
    printf("%d calls failed, %d of the figures missed\n", failures, missed);
    return failures != 0;
}
