// A client in C++. `plan FILE` answers the request in FILE and prints the answer; a refusal goes to stderr.
// `plan` alone checks how the library meets bad input when it is wrapped the C++ way.
#include <poulter.h>

#include <cstdlib>
#include <fstream>
#include <iostream>
#include <iterator>
#include <memory>
#include <stdexcept>
#include <string>
#include <string_view>
#include <thread>
#include <type_traits>
#include <vector>

// Unlike assert, it stays when NDEBUG is set.
#define CHECK(condition)                                                                       \
    do {                                                                                       \
        if (!(condition)) {                                                                    \
            std::cerr << __FILE__ << ":" << __LINE__ << ": not so: " << #condition << "\n";    \
            std::exit(2);                                                                      \
        }                                                                                      \
    } while (0)

#if defined(__LP64__)
static_assert(sizeof(poulter_buffer) == 16 && offsetof(poulter_buffer, len) == 8);
static_assert(sizeof(poulter_text) == 16 && offsetof(poulter_text, len) == 8);
#endif
static_assert(std::is_same_v<std::underlying_type_t<poulter_status>, std::uint32_t>);
static_assert(std::is_standard_layout_v<poulter_buffer> && std::is_trivial_v<poulter_buffer>);

namespace {

std::string_view view(poulter_text text) { return {text.data, text.len}; }

struct FreeError {
    void operator()(poulter_error *error) const { poulter_error_free(error); }
};

// A refusal as an exception that owns the library's own object.
class Refused : public std::runtime_error {
public:
    explicit Refused(std::shared_ptr<poulter_error> error)
        : std::runtime_error(std::string(view(poulter_error_message(error.get())))), error_(std::move(error)) {}
    poulter_status code() const { return poulter_error_code(error_.get()); }
    std::string_view field() const { return view(poulter_error_field(error_.get())); }
    std::string_view given() const { return view(poulter_error_given(error_.get())); }

private:
    std::shared_ptr<poulter_error> error_;
};

struct Buffer : poulter_buffer {
    Buffer() : poulter_buffer{nullptr, 0} {}
    Buffer(const Buffer &) = delete;
    Buffer &operator=(const Buffer &) = delete;
    ~Buffer() { poulter_buffer_free(this); }
};

std::string evaluate(std::string_view request) {
    std::unique_ptr<poulter_error, FreeError> error(poulter_error_new());
    Buffer out;
    const auto *bytes = reinterpret_cast<const std::uint8_t *>(request.data());
    if (poulter_evaluate_json(bytes, request.size(), &out, error.get()) != POULTER_STATUS_OK) {
        throw Refused(std::move(error));
    }
    return {reinterpret_cast<const char *>(out.data), out.len};
}

void refused(std::string_view request, poulter_status code, std::string_view field) {
    try {
        evaluate(request);
    } catch (const Refused &error) {
        CHECK(error.code() == code);
        CHECK(error.field() == field);
        return;
    }
    CHECK(!"an answer to a request that must be refused");
}

void check() {
    using namespace std::string_literals;
    CHECK(std::string_view(POULTER_VERSION) == poulter_version());
    CHECK(poulter_abi_version() == POULTER_ABI_VERSION);

    refused({}, POULTER_STATUS_NULL_POINTER, "request");
    refused("", POULTER_STATUS_MALFORMED, "");
    refused("\xFF\xFE", POULTER_STATUS_NOT_UTF8, "");
    refused(R"({"kind": "thaw_time", "mass": "400", "method": "refrigerator"})", POULTER_STATUS_UNIT_MISSING, "mass");
    refused(R"({"kind": "thaw_time", "mass": "-3 lb", "method": "refrigerator"})", POULTER_STATUS_OUT_OF_RANGE, "mass");
    refused(R"({"kind": "thaw_time", "mass": "3 lb", "method": "refrigerator", "x": 1})", POULTER_STATUS_UNKNOWN_FIELD,
            "x");
    refused(R"({"kind": "check_cooking", "readings": {"breast": "NaN °F"}})", POULTER_STATUS_OUT_OF_RANGE,
            "readings.breast");
    refused(std::string(10u << 20, '['), POULTER_STATUS_TOO_LARGE, "");

    // A zero byte that came in comes back, and the length counts it.
    try {
        evaluate("{\"kind\": \"\\u0000x\"}");
        CHECK(!"an answer to an unknown kind");
    } catch (const Refused &error) {
        CHECK(error.given() == "\0x"s);
    }

    // Threads with an error object each get the same bytes.
    const std::string request = R"({"kind": "thaw_time", "mass": "15 lb", "method": "refrigerator"})";
    const std::string expected = evaluate(request);
    std::vector<std::string> answers(4);
    std::vector<std::thread> threads;
    for (auto &answer : answers) {
        threads.emplace_back([&] { answer = evaluate(request); });
    }
    for (auto &thread : threads) {
        thread.join();
    }
    for (const auto &answer : answers) {
        CHECK(answer == expected);
    }
}

} // namespace

int main(int argc, char **argv) {
    if (argc < 2) {
        check();
        return 0;
    }
    try {
        std::ifstream file(argv[1], std::ios::binary);
        if (!file) {
            throw std::runtime_error(std::string(argv[1]) + ": cannot be read");
        }
        std::cout << evaluate(std::string(std::istreambuf_iterator<char>(file), {}));
        return 0;
    } catch (const std::exception &error) {
        std::cerr << error.what() << "\n";
        return 1;
    }
}
