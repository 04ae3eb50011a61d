/*
 * A client in C11: makes a plan, judges a log, handles an error.
 *
 *     cc plan.c $(pkg-config --cflags --libs poulter) -o plan && ./plan order.toml probe.csv
 */
#include <poulter.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The whole of a file, with a closing zero. */
static char *read_file(const char *path)
{
    FILE *file = fopen(path, "rb");
    char *text = malloc(1 << 20);
    if (file == NULL || text == NULL) {
        perror(path);
        exit(1);
    }
    text[fread(text, 1, (1 << 20) - 1, file)] = '\0';
    fclose(file);
    return text;
}

/* A request that carries the text as a JSON string. */
static char *log_request(const char *csv)
{
    char *request = malloc(2 * strlen(csv) + 100);
    if (request == NULL) {
        exit(1);
    }
    char *end = request + sprintf(request, "{\"kind\":\"check_cooking_log\",\"log\":{\"csv\":\"");
    for (; *csv != '\0'; csv++) {
        if (*csv == '\n') {
            *end++ = '\\';
            *end++ = 'n';
        } else if (*csv != '\r') {
            *end++ = *csv;
        }
    }
    strcpy(end, "\"}}");
    return request;
}

static void fail(const struct poulter_error *error)
{
    fprintf(stderr, "%s\n", poulter_error_message(error).data);
    exit(1);
}

int main(int argc, char **argv)
{
    if (argc < 3) {
        fprintf(stderr, "usage: plan ORDER.toml LOG.csv\n");
        return 64;
    }
    struct poulter_error *error = poulter_error_new();

    /* A plan. A planner may be shared by threads, and so may a plan. */
    struct poulter_planner *planner = NULL;
    struct poulter_plan *plan = NULL;
    struct poulter_step first;
    char *order = read_file(argv[1]);
    if (poulter_planner_new(NULL, 0, &planner, error) != POULTER_STATUS_OK ||
        poulter_planner_plan(planner, (const uint8_t *)order, strlen(order), &plan, error) != POULTER_STATUS_OK ||
        poulter_plan_step(plan, 0, &first, error) != POULTER_STATUS_OK) {
        fail(error);
    }
    printf("plan: %s, %zu steps, first %s at %s\n", poulter_plan_is_feasible(plan) ? "feasible" : "not feasible",
           poulter_plan_step_count(plan), first.id.data, first.planned.data);

    /* A log. Unsafe food is an answer, not a failure. */
    struct poulter_buffer answer = {NULL, 0};
    char *csv = read_file(argv[2]);
    char *request = log_request(csv);
    if (poulter_evaluate_json((const uint8_t *)request, strlen(request), &answer, error) != POULTER_STATUS_OK) {
        fail(error);
    }
    const char *verdict = strstr((const char *)answer.data, "\"verdict\":\"") + strlen("\"verdict\":\"");
    printf("log: %.*s\n", (int)strcspn(verdict, "\""), verdict);

    /* An error: four hundred of what? */
    const char *bad = "{\"kind\":\"thaw_time\",\"mass\":\"400\",\"method\":\"refrigerator\"}";
    if (poulter_evaluate_json((const uint8_t *)bad, strlen(bad), &answer, error) != POULTER_STATUS_OK) {
        printf("error: %u at %s\n", (unsigned)poulter_error_code(error), poulter_error_field(error).data);
    }

    poulter_buffer_free(&answer);
    poulter_plan_free(plan);
    poulter_planner_free(planner);
    poulter_error_free(error);
    free(request);
    free(csv);
    free(order);
    return 0;
}
