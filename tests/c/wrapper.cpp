// The C++ wrapper: values, exceptions that own their texts, move-only handles, and handles shared by threads.
#include <poulter.hpp>

#include <cmath>
#include <cstdlib>
#include <iostream>
#include <thread>
#include <type_traits>

#define CHECK(condition)                                                                       \
    do {                                                                                       \
        if (!(condition)) {                                                                    \
            std::cerr << __FILE__ << ":" << __LINE__ << ": not so: " << #condition << "\n";    \
            std::exit(2);                                                                      \
        }                                                                                      \
    } while (0)

static_assert(std::is_nothrow_copy_constructible_v<poulter::error>);
static_assert(!std::is_copy_constructible_v<poulter::plan> && std::is_nothrow_move_constructible_v<poulter::plan>);
static_assert(!std::is_copy_constructible_v<poulter::planner> && std::is_nothrow_move_constructible_v<poulter::planner>);

namespace {

template <class Call> poulter::error refused(Call call) {
    try {
        call();
    } catch (const poulter::error &error) {
        return error;
    }
    CHECK(!"a call that must be refused");
    std::abort();
}

constexpr std::string_view order = R"(
serve_at = "2026-12-19T18:30[Europe/Lisbon]"
now = "2026-12-13T09:00[Europe/Lisbon]"
guests = { adults = 11 }
bird = { species = "turkey", mass = "6.8 kg", state = "frozen" }
)";

void values() {
    poulter::require_abi();
    CHECK(poulter::convert(41, POULTER_UNIT_FAHRENHEIT, POULTER_UNIT_CELSIUS) == 5);
    CHECK(poulter::convert(std::vector<double>{}, POULTER_UNIT_GRAM, POULTER_UNIT_KILOGRAM).empty());
    const auto converted = poulter::convert(std::vector<double>{32, 140}, POULTER_UNIT_FAHRENHEIT, POULTER_UNIT_CELSIUS);
    CHECK(converted == (std::vector<double>{0, 60}));
    // FSA: 70 degrees for 2 minutes are six powers of ten.
    CHECK(std::abs(poulter::lethality({0, 120}, {70, 70}, POULTER_SCHEME_UK) - 6) < 1e-6);

    const poulter::bird turkey;
    CHECK(turkey.thaw_time(POULTER_THAW_METHOD_REFRIGERATOR, 6.8).low_s == 3 * 86400.0);
    CHECK(turkey.roast_time(13 * 0.45359237).high_s == 3.75 * 3600);
    CHECK(turkey.minimum_temperature().temp_degF == 165 && !turkey.minimum_temperature().hold_s);
    const poulter::bird british{POULTER_STANDARD_UK};
    CHECK(british.minimum_temperature().hold_s == 120.0);
    CHECK(std::abs(turkey.purchase_mass_kg(10) - 4.5359237) < 1e-9);
    CHECK(std::abs(turkey.wet_brine_salt_kg(2 * 3.785411784) - 0.438) < 1e-6);
    CHECK(turkey.dry_brine_salt_kg(5) > 0);
    CHECK(poulter::evaluate(R"({"kind": "thaw_time", "mass": "15 lb", "method": "refrigerator"})").front() == '{');
}

void refusals() {
    const auto error = refused([] { poulter::evaluate(R"({"kind": "thaw_time", "mass": "400", "method": "x"})"); });
    CHECK(error.code() == POULTER_STATUS_UNIT_MISSING && error.field() == "mass" && error.given() == "400");
    CHECK(!error.expected().empty() && error.json().front() == '{');
    CHECK(std::string_view(error.what()).find("400") != std::string_view::npos);
    CHECK(refused([] { poulter::evaluate({}); }).code() == POULTER_STATUS_MALFORMED);
    CHECK(refused([] { poulter::bird{}.roast_time(100); }).code() == POULTER_STATUS_NO_PUBLISHED_ROW);
    CHECK(refused([] { poulter::planner("[[rule]]"); }).code() == POULTER_STATUS_RULE_INVALID);
    CHECK(refused([] { poulter::planner().plan("serve_at = "); }).code() == POULTER_STATUS_MALFORMED);
    CHECK(refused([] { poulter::planner().plan(order)[99]; }).field() == "index");
}

// One planner makes plans in eight threads at once, and one plan is read by all of them.
void shared() {
    const poulter::planner planner;
    const poulter::plan first = planner.plan(order);
    CHECK(first.is_feasible() && first.size() == first.steps().size());
    std::vector<std::thread> threads;
    std::vector<int> same(8);
    for (auto &result : same) {
        threads.emplace_back([&] {
            const poulter::plan mine = planner.plan(order);
            bool equal = mine.json() == first.json();
            for (std::size_t index = 0; index < first.size(); ++index) {
                equal = equal && mine[index].planned == first[index].planned;
            }
            for (int turn = 0; turn < 1000; ++turn) {
                const double mass = 4 + 0.001 * turn;
                equal = equal && poulter::bird{}.roast_time(mass).low_s > 0;
            }
            result = equal;
        });
    }
    for (auto &thread : threads) {
        thread.join();
    }
    for (const int result : same) {
        CHECK(result == 1);
    }
}

} // namespace

int main() {
    values();
    refusals();
    shared();
}
