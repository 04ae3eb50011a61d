// The C++ wrapper: values, exceptions that own their texts, move-only handles, and handles shared by threads.
#include <poulter.hpp>

#include <array>
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

static_assert(!std::is_copy_constructible_v<poulter::probe> && std::is_nothrow_move_constructible_v<poulter::probe>);

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
    CHECK(poulter::version() == POULTER_VERSION);
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

// The same printed rows as above, many at once; an array that is empty, an array of C and one of C++.
void arrays() {
    constexpr double lb = 0.45359237;
    const poulter::bird turkey;
    const double masses[] = {12 * lb, 13 * lb};
    const auto thaws = turkey.thaw_times(POULTER_THAW_METHOD_REFRIGERATOR, poulter::values<double>(masses, 2));
    CHECK(thaws.size() == 2 && thaws[1].low_s == 3 * 86400.0 && thaws[1].high_s == 4 * 86400.0);
    const auto roasts = turkey.roast_times(std::array<double, 2>{12 * lb, 13 * lb});
    CHECK(roasts.size() == 2 && roasts[1].low_s == 3 * 3600.0 && roasts[1].high_s == 3.75 * 3600.0);
    const auto bought = turkey.purchase_masses_kg({10, 4}, {0, 2});
    CHECK(std::abs(bought.at(0) - 10 * lb) < 1e-9 && std::abs(bought.at(1) - 5 * lb) < 1e-9);
    const auto wet = turkey.wet_brine_salts_kg(std::vector<double>{3.785411784, 2 * 3.785411784});
    CHECK(std::abs(wet.at(0) - 0.219) < 1e-6 && std::abs(wet.at(1) - 0.438) < 1e-6);
    CHECK(turkey.dry_brine_salts_kg({5.0}).at(0) == turkey.dry_brine_salt_kg(5));
    CHECK(turkey.roast_times({}).empty());

    const auto error = refused([&] { turkey.roast_times({12 * lb, 100.0}); });
    CHECK(error.code() == POULTER_STATUS_NO_PUBLISHED_ROW && error.field() == "mass_kg[1].mass");
    bool unequal = false;
    try {
        turkey.purchase_masses_kg({1}, {1, 2});
    } catch (const std::invalid_argument &) {
        unequal = true;
    }
    CHECK(unequal);
}

// FSIS: 165 degrees Fahrenheit is 73.889 Celsius to the thousandth above it. Log 0 is under it, 1 at it, 2 over it, 3
// lacks a reading.
void logs() {
    const std::vector<std::uint32_t> log{0, 1, 2, 3, 0, 1, 2, 3};
    const std::vector<double> elapsed_s{0, 0, 0, 0, 60, 60, 60, 60};
    const std::vector<double> temp_degC{70, 70, 70, 70, 73.888, 73.889, 73.890, std::nan("")};
    const auto found = poulter::check_logs(R"({"check":"cooking","cut":"boneless-breast"})", {log, elapsed_s, temp_degC}, 4);
    CHECK(found.rows.size() == 4 && found.rows[0].verdict == POULTER_VERDICT_FAILS);
    CHECK(found.rows[1].verdict == POULTER_VERDICT_MEETS && found.rows[2].verdict == POULTER_VERDICT_MEETS);
    CHECK(found.rows[3].verdict == POULTER_VERDICT_CANNOT_TELL && found.rows[3].fault_row == 2);
    CHECK(found.details.find("\"no-reading\"") != std::string::npos);

    // A whole bird wants thigh, wing and breast (FSIS): with the breast alone nothing can be told.
    const std::vector<std::uint32_t> one{0, 0}, all{0, 0, 1, 1, 2, 2};
    for (const auto &[place, verdict] : {std::pair(one, POULTER_VERDICT_CANNOT_TELL), std::pair(all, POULTER_VERDICT_MEETS)}) {
        const std::vector<std::uint32_t> same(place.size(), 0);
        const std::vector<double> times{0, 60, 0, 60, 0, 60}, done(place.size(), 74);
        const std::vector<double> start(times.begin(), times.begin() + static_cast<std::ptrdiff_t>(place.size()));
        const auto whole = poulter::check_logs(R"({"check":"cooking"})",
                                               {same, start, done, poulter::values<std::uint32_t>(place), "breast,thigh,wing"}, 1);
        CHECK(whole.rows.at(0).verdict == static_cast<std::uint32_t>(verdict));
    }
    CHECK(refused([] { poulter::check_logs(R"({"check":"frying"})", {{0}, {0}, {20}}, 1); }).field() == "check");
    // No growth above 51.5 or below 8.8 degrees, the ends of the published model.
    CHECK(poulter::growth({0, 600}, {4, 5}, POULTER_GROWTH_MODEL_PERFRINGENS_ROASTED_CHICKEN) == 0);
}

void roast() {
    constexpr std::string_view oven = R"("mass":"12 lb","start":"40 degF","target":"165 degF","oven":[{"temperature":"325 degF"}]})";
    const auto curve = poulter::simulate(R"({"kind":"simulate_roast",)" + std::string(oven));
    CHECK(curve.elapsed_s.size() == curve.temp_degC.size() && curve.elapsed_s.size() > 10);
    CHECK(curve.elapsed_s.front() == 0 && std::abs(curve.temp_degC.front() - 40.0 / 9) < 0.01);
    const auto kill = poulter::simulate_log10(R"({"kind":"simulate_roast",)" + std::string(oven));
    CHECK(kill.size() == curve.elapsed_s.size() && kill.front() == 0 && kill.back() == 7);
    poulter::probe probe(R"({"members":200,"probes":[{"place":"breast"}],"roast":{)" + std::string(oven) + "}");
    for (std::size_t row = 1; curve.elapsed_s.at(row) <= 7200; ++row) {
        probe.push(POULTER_PROBE_PLACE_BREAST, curve.elapsed_s[row], curve.temp_degC[row]);
    }
    const auto state = probe.ask();
    CHECK(state.verdict == POULTER_VERDICT_FAILS && state.findings == 0);
    CHECK(state.low_s < state.likely_s && state.likely_s < state.high_s);
    CHECK(std::abs(state.likely_s - curve.elapsed_s.back()) < 1800);
    CHECK(probe.json().find("\"kind\":\"forecast\"") != std::string::npos);
    CHECK(refused([&] { probe.push(POULTER_PROBE_PLACE_BREAST, 60, 10); }).code() == POULTER_STATUS_OUT_OF_RANGE);
    const poulter::probe moved(std::move(probe));
    CHECK(moved.ask().likely_s == state.likely_s);
    CHECK(refused([] { poulter::probe("{"); }).code() == POULTER_STATUS_MALFORMED);
}

void sheets() {
    constexpr std::string_view json = R"({"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "guests": {"adults": 8},
        "bird": {"species": "turkey", "mass": "12 lb", "state": "thawed"}})";
    CHECK(poulter::worksheet(json).find("6:30 pm") != std::string::npos);
    CHECK(poulter::worksheet(json, "class", "ics").rfind("BEGIN:VCALENDAR", 0) == 0);
    CHECK(poulter::worksheet(json, "host", "xlsx").rfind("PK", 0) == 0);
    CHECK(refused([&] { poulter::worksheet(json, "poster"); }).field() == "kind");
    CHECK(refused([&] { poulter::worksheet(json, "key", "ics"); }).code() == POULTER_STATUS_UNKNOWN_VALUE);
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
    arrays();
    logs();
    roast();
    sheets();
    refusals();
    shared();
}
