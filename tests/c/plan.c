/*
 * A client in C. `plan FILE` answers the request in FILE and prints the answer; a refusal goes to stderr.
 * `plan` alone checks how the library meets bad input.
 */
#include <poulter.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Unlike assert, it stays when NDEBUG is set. */
#define CHECK(condition)                                                          \
    do {                                                                          \
        if (!(condition)) {                                                       \
            fprintf(stderr, "%s:%d: not so: %s\n", __FILE__, __LINE__, #condition); \
            exit(2);                                                              \
        }                                                                         \
    } while (0)

#if defined(__LP64__)
_Static_assert(sizeof(struct poulter_buffer) == 16, "size of poulter_buffer");
_Static_assert(offsetof(struct poulter_buffer, data) == 0, "poulter_buffer.data");
_Static_assert(offsetof(struct poulter_buffer, len) == 8, "poulter_buffer.len");
_Static_assert(sizeof(struct poulter_text) == 16, "size of poulter_text");
_Static_assert(offsetof(struct poulter_text, data) == 0, "poulter_text.data");
_Static_assert(offsetof(struct poulter_text, len) == 8, "poulter_text.len");
#endif
_Static_assert(sizeof(poulter_status) == 4, "size of poulter_status");
_Static_assert((poulter_status)-1 > 0, "poulter_status has no sign");

#define GOOD "{\"kind\": \"thaw_time\", \"mass\": \"15 lb\", \"method\": \"refrigerator\"}"

static poulter_status evaluate(const char *request, struct poulter_buffer *out, struct poulter_error *error)
{
    return poulter_evaluate_json((const uint8_t *)request, strlen(request), out, error);
}

static int is(struct poulter_text text, const char *expected)
{
    return text.len == strlen(expected) && strcmp(text.data, expected) == 0;
}

/* A request is refused with this status and field, and the output stays untouched. */
static void refused(struct poulter_error *error, const char *request, poulter_status status, const char *field)
{
    uint8_t mark = 0;
    struct poulter_buffer out = {&mark, 77};
    CHECK(evaluate(request, &out, error) == status);
    CHECK(out.data == &mark && out.len == 77);
    CHECK(poulter_error_code(error) == status);
    CHECK(is(poulter_error_field(error), field));
    CHECK(poulter_error_expected(error).len > 0);
    CHECK(strstr(poulter_error_message(error).data, poulter_error_expected(error).data) != NULL);
    CHECK(poulter_error_json(error).data[0] == '{');
    CHECK(evaluate(request, &out, NULL) == status);
    CHECK(out.data == &mark && out.len == 77);
}

static void check_versions(void)
{
    char composed[64];
    snprintf(composed, sizeof composed, "%d.%d.%d", POULTER_VERSION_MAJOR, POULTER_VERSION_MINOR, POULTER_VERSION_PATCH);
    CHECK(strncmp(POULTER_VERSION, composed, strlen(composed)) == 0);
    CHECK(strcmp(POULTER_VERSION, poulter_version()) == 0);
    CHECK(poulter_abi_version() == POULTER_ABI_VERSION);
}

static void check_null(struct poulter_error *error)
{
    struct poulter_buffer out = {NULL, 0};
    CHECK(poulter_evaluate_json(NULL, 0, &out, error) == POULTER_STATUS_NULL_POINTER);
    CHECK(is(poulter_error_field(error), "request"));
    CHECK(poulter_evaluate_json(NULL, 5, &out, error) == POULTER_STATUS_NULL_POINTER);
    CHECK(evaluate(GOOD, NULL, error) == POULTER_STATUS_NULL_POINTER);
    CHECK(is(poulter_error_field(error), "out"));
    CHECK(poulter_evaluate_json(NULL, 0, NULL, NULL) == POULTER_STATUS_NULL_POINTER);
    CHECK(out.data == NULL && out.len == 0);

    poulter_buffer_free(NULL);
    poulter_buffer_free(&out);
    poulter_error_free(NULL);
    CHECK(poulter_error_code(NULL) == POULTER_STATUS_OK);
    CHECK(is(poulter_error_field(NULL), ""));
    CHECK(is(poulter_error_given(NULL), ""));
    CHECK(is(poulter_error_expected(NULL), ""));
    CHECK(is(poulter_error_message(NULL), ""));
    CHECK(is(poulter_error_json(NULL), ""));
}

static void check_bytes(struct poulter_error *error)
{
    static const uint8_t latin1[] = {'{', '"', 0xE9, '"', '}'};
    static const uint8_t overlong[] = {0xC0, 0x80};
    static const uint8_t surrogate[] = {0xED, 0xA0, 0x80};
    struct poulter_buffer out = {NULL, 0};
    CHECK(poulter_evaluate_json(latin1, sizeof latin1, &out, error) == POULTER_STATUS_NOT_UTF8);
    CHECK(is(poulter_error_given(error), "no UTF-8 at byte 2"));
    CHECK(poulter_evaluate_json(overlong, sizeof overlong, &out, error) == POULTER_STATUS_NOT_UTF8);
    CHECK(poulter_evaluate_json(surrogate, sizeof surrogate, &out, error) == POULTER_STATUS_NOT_UTF8);
    CHECK(poulter_evaluate_json(latin1, 0, &out, error) == POULTER_STATUS_MALFORMED);
    CHECK(poulter_evaluate_json(latin1, SIZE_MAX, &out, error) == POULTER_STATUS_TOO_LARGE);
    CHECK(out.data == NULL && out.len == 0);
}

#define ORDER "{\"serve_at\": \"2026-12-19T18:30[Europe/Lisbon]\", \"guests\": {\"adults\": 8}, " \
              "\"bird\": {\"species\": \"turkey\", \"mass\": \"12 lb\", \"state\": \"thawed\"}}"

static void check_worksheet(struct poulter_error *error)
{
    const uint8_t *order = (const uint8_t *)ORDER;
    const size_t len = strlen(ORDER);
    struct poulter_buffer out = {NULL, 0};
    CHECK(poulter_worksheet(order, len, "labels", "csv", &out, error) == POULTER_STATUS_OK);
    CHECK(strncmp((const char *)out.data, "Item,Cooked,", 12) == 0 && out.data[out.len] == 0);
    poulter_buffer_free(&out);
    CHECK(poulter_worksheet(order, len, "class", "xlsx", &out, error) == POULTER_STATUS_OK);
    CHECK(out.len > 1000 && out.data[0] == 'P' && out.data[1] == 'K');
    poulter_buffer_free(&out);
    CHECK(poulter_worksheet(order, len, "poster", "csv", &out, error) == POULTER_STATUS_UNKNOWN_VALUE);
    CHECK(is(poulter_error_field(error), "kind"));
    CHECK(poulter_worksheet(order, len, "key", "ics", &out, error) == POULTER_STATUS_UNKNOWN_VALUE);
    CHECK(poulter_worksheet(order, len, NULL, "csv", &out, error) == POULTER_STATUS_NULL_POINTER);
    CHECK(poulter_worksheet(order, len, "key", NULL, &out, error) == POULTER_STATUS_NULL_POINTER);
    CHECK(poulter_worksheet(NULL, 0, "key", "csv", &out, error) == POULTER_STATUS_NULL_POINTER);
    CHECK(poulter_worksheet(order, len, "key", "csv", NULL, NULL) == POULTER_STATUS_NULL_POINTER);
    CHECK(out.data == NULL && out.len == 0);
}

static void check_junk(struct poulter_error *error)
{
    const size_t size = 10u << 20;
    struct poulter_buffer out = {NULL, 0};
    char *junk = malloc(size);
    CHECK(junk != NULL);
    memset(junk, '[', size);
    CHECK(poulter_evaluate_json((uint8_t *)junk, size, &out, error) == POULTER_STATUS_TOO_LARGE);
    /* Small enough to be read, deep enough to break a parser that recurses without a limit. */
    CHECK(poulter_evaluate_json((uint8_t *)junk, 1u << 20, &out, error) == POULTER_STATUS_MALFORMED);
    memset(junk, 0xFF, size);
    CHECK(poulter_evaluate_json((uint8_t *)junk, size, &out, error) == POULTER_STATUS_NOT_UTF8);
    CHECK(out.data == NULL && out.len == 0);
    free(junk);
}

static void check_requests(struct poulter_error *error)
{
    refused(error, "", POULTER_STATUS_MALFORMED, "");
    refused(error, "{\"kind\": \"thaw_time\", \"mass\": NaN}", POULTER_STATUS_MALFORMED, "");
    refused(error, "[]", POULTER_STATUS_WRONG_TYPE, "");
    refused(error, "{}", POULTER_STATUS_MISSING_FIELD, "kind");
    refused(error, "{\"kind\": \"thaw_time\", \"method\": \"refrigerator\"}", POULTER_STATUS_MISSING_FIELD, "mass");
    refused(error, "{\"kind\": \"thaw_time\", \"mass\": \"15 lb\", \"method\": \"refrigerator\", \"colour\": 1}",
            POULTER_STATUS_UNKNOWN_FIELD, "colour");
    refused(error, "{\"kind\": \"thaw_time\", \"mass\": \"-3 lb\", \"method\": \"refrigerator\"}",
            POULTER_STATUS_OUT_OF_RANGE, "mass");
    refused(error, "{\"kind\": \"check_cooking\", \"readings\": {\"breast\": \"NaN \xC2\xB0" "F\"}}",
            POULTER_STATUS_OUT_OF_RANGE, "readings.breast");
    refused(error, "{\"kind\": \"thaw_time\", \"mass\": \"400\", \"method\": \"refrigerator\"}",
            POULTER_STATUS_UNIT_MISSING, "mass");
    CHECK(is(poulter_error_given(error), "400"));
    /* The text that was given may hold a zero byte. */
    refused(error, "{\"kind\": \"thaw_time\", \"mass\": \"1\\u0000 lb\", \"method\": \"refrigerator\"}",
            POULTER_STATUS_UNIT_UNKNOWN, "mass");
}

static void check_answer(struct poulter_error *error)
{
    struct poulter_buffer out = {NULL, 0};
    refused(error, "[]", POULTER_STATUS_WRONG_TYPE, "");
    CHECK(evaluate(GOOD, &out, error) == POULTER_STATUS_OK);
    CHECK(poulter_error_code(error) == POULTER_STATUS_OK);
    CHECK(is(poulter_error_message(error), ""));
    CHECK(out.len > 0 && out.data[0] == '{' && out.data[out.len - 1] == '}' && out.data[out.len] == 0);
    poulter_buffer_free(&out);
    CHECK(out.data == NULL && out.len == 0);
    poulter_buffer_free(&out);
    CHECK(evaluate(GOOD, &out, NULL) == POULTER_STATUS_OK);
    poulter_buffer_free(&out);
}

static int answer(const char *path, struct poulter_error *error)
{
    static uint8_t request[2u << 20];
    struct poulter_buffer out = {NULL, 0};
    FILE *file = fopen(path, "rb");
    if (file == NULL) {
        perror(path);
        return 1;
    }
    size_t len = fread(request, 1, sizeof request, file);
    fclose(file);
    if (poulter_evaluate_json(request, len, &out, error) != POULTER_STATUS_OK) {
        struct poulter_text message = poulter_error_message(error);
        fwrite(message.data, 1, message.len, stderr);
        fputc('\n', stderr);
        return 1;
    }
    CHECK(fwrite(out.data, 1, out.len, stdout) == out.len);
    poulter_buffer_free(&out);
    return 0;
}

/* FSA: 70 degrees for 2 minutes are six powers of ten. */
static void check_lethality(struct poulter_error *error)
{
    const double seconds[] = {0.0, 60.0, 120.0};
    const double backward[] = {0.0, 60.0, 30.0};
    const double degrees[] = {70.0, 70.0, 70.0};
    double kill = -1.0;
    CHECK(poulter_lethality(seconds, degrees, 3, 77, &kill, error) == POULTER_STATUS_UNKNOWN_VALUE);
    CHECK(is(poulter_error_field(error), "scheme"));
    CHECK(poulter_lethality(backward, degrees, 3, POULTER_SCHEME_UK, &kill, error) == POULTER_STATUS_OUT_OF_RANGE);
    CHECK(strstr(poulter_error_message(error).data, "row 3") != NULL);
    CHECK(poulter_lethality(NULL, degrees, 3, POULTER_SCHEME_UK, &kill, error) == POULTER_STATUS_NULL_POINTER);
    CHECK(poulter_lethality(seconds, degrees, 3, POULTER_SCHEME_UK, NULL, error) == POULTER_STATUS_NULL_POINTER);
    CHECK(kill == -1.0);
    CHECK(poulter_lethality(seconds, degrees, 3, POULTER_SCHEME_UK, &kill, error) == POULTER_STATUS_OK);
    CHECK(poulter_error_code(error) == POULTER_STATUS_OK);
    CHECK(kill > 5.999999 && kill < 6.000001);
}

int main(int argc, char **argv)
{
    int result = 0;
    struct poulter_error *error = poulter_error_new();
    CHECK(error != NULL);
    CHECK(poulter_error_code(error) == POULTER_STATUS_OK);
    if (argc > 1) {
        result = answer(argv[1], error);
    } else {
        check_versions();
        check_null(error);
        check_bytes(error);
        check_worksheet(error);
        check_junk(error);
        check_requests(error);
        check_answer(error);
        check_lethality(error);
    }
    poulter_error_free(error);
    return result;
}
