/*
 * Answers the requests of a file, one a line, and prints each answer, or the error as JSON, on a line of its own.
 */
#include <poulter.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The longest request line of the vectors is far below this. */
enum { LONGEST = 1 << 16 };

int main(int count, char **arguments)
{
    static char line[LONGEST];
    FILE *requests;
    struct poulter_error *error;
    int answered = 0;

    if (count != 2 || (requests = fopen(arguments[1], "r")) == NULL) {
        fprintf(stderr, "usage: vectors FILE\n");
        return EXIT_FAILURE;
    }
    error = poulter_error_new();
    while (fgets(line, LONGEST, requests) != NULL) {
        struct poulter_buffer answer = {NULL, 0};
        size_t length = strcspn(line, "\n");
        if (poulter_evaluate_json((const uint8_t *)line, length, &answer, error) == POULTER_STATUS_OK) {
            printf("%.*s\n", (int)answer.len, (const char *)answer.data);
            poulter_buffer_free(&answer);
        } else {
            printf("%s\n", poulter_error_json(error).data);
        }
        answered++;
    }
    poulter_error_free(error);
    fclose(requests);
    return answered > 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
