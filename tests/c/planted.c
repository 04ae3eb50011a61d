/* A bug on purpose: the library is handed an object that was freed. A sanitizer that says nothing here is not at work. */
#include <poulter.h>

int main(void)
{
    struct poulter_error *error = poulter_error_new();
    poulter_error_free(error);
    return (int)poulter_error_code(error);
}
