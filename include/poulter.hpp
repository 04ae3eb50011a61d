// Poulter for C++17: the C interface of poulter.h as values, views and exceptions. Header only.
//
// A failure is a poulter::error, which owns its texts. Food that is not safe is an answer, never an exception.
// planner, plan and probe are move-only; const functions of a planner or a plan may be called from any number of threads,
// and a probe serves one thread at a time.
#ifndef POULTER_HPP
#define POULTER_HPP

#include <poulter.h>

#include <cstddef>
#include <cstdint>
#include <initializer_list>
#include <memory>
#include <new>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace poulter {

namespace detail {

struct free_error {
    void operator()(poulter_error *error) const noexcept { poulter_error_free(error); }
};
using error_handle = std::unique_ptr<poulter_error, free_error>;

inline std::string_view view(poulter_text text) noexcept { return {text.data, text.len}; }

// An empty view may hold no address; the C interface wants one.
inline const std::uint8_t *bytes(std::string_view text) noexcept {
    return reinterpret_cast<const std::uint8_t *>(text.data() == nullptr ? "" : text.data());
}

} // namespace detail

// A refused call: the status, the field at fault, what was given and what is allowed. what() is one sentence with advice.
class error : public std::runtime_error {
public:
    error(poulter_status code, const poulter_error *from)
        : std::runtime_error(std::string(detail::view(poulter_error_message(from)))), code_(code),
          parts_(std::make_shared<const parts>(parts{std::string(detail::view(poulter_error_field(from))),
                                                     std::string(detail::view(poulter_error_given(from))),
                                                     std::string(detail::view(poulter_error_expected(from))),
                                                     std::string(detail::view(poulter_error_json(from)))})) {}

    poulter_status code() const noexcept { return code_; }
    std::string_view field() const noexcept { return parts_->field; }
    std::string_view given() const noexcept { return parts_->given; }
    std::string_view expected() const noexcept { return parts_->expected; }
    std::string_view json() const noexcept { return parts_->json; }

private:
    struct parts {
        std::string field, given, expected, json;
    };
    poulter_status code_;
    std::shared_ptr<const parts> parts_; // an exception must copy without throwing
};

namespace detail {

// Makes a call, and once more with an error object when it fails: a success needs none.
template <class Call> void check(Call call) {
    if (call(nullptr) == POULTER_STATUS_OK) {
        return;
    }
    error_handle object(poulter_error_new());
    if (!object) {
        throw std::bad_alloc();
    }
    const poulter_status status = call(object.get());
    if (status != POULTER_STATUS_OK) {
        throw error(status, object.get());
    }
}

template <class Value, class Call> Value out(Call call) {
    Value value{};
    check([&](poulter_error *error) { return call(&value, error); });
    return value;
}

// The bytes of a buffer, which is given back.
template <class Call> std::string text(Call call) {
    poulter_buffer buffer = out<poulter_buffer>(call);
    const std::unique_ptr<poulter_buffer, void (*)(poulter_buffer *)> owner(&buffer, poulter_buffer_free);
    return {reinterpret_cast<const char *>(buffer.data), buffer.len};
}

} // namespace detail

// A view of numbers that stand one after the other: a vector, an array, or an address with a count. It owns nothing.
template <class Number> class values {
public:
    values(const Number *data, std::size_t size) noexcept : data_(data), size_(size) {}
    template <class Container, class = decltype(static_cast<const Number *>(std::declval<const Container &>().data()))>
    values(const Container &container) noexcept : data_(container.data()), size_(container.size()) {}
    // For a list written in the call itself, which lasts as long as the call.
    values(std::initializer_list<Number> list) noexcept : values(list.begin(), list.size()) {}

    // Never null: the C interface wants an address of an empty array too.
    const Number *data() const noexcept {
        static constexpr Number none{};
        return data_ == nullptr ? &none : data_;
    }
    std::size_t size() const noexcept { return size_; }

private:
    const Number *data_;
    std::size_t size_;
};

namespace detail {

// One item for each of `size`.
template <class Item, class Call> std::vector<Item> each(std::size_t size, Call call) {
    std::vector<Item> items(size + 1); // one more, so that it always has an address
    check([&](poulter_error *error) { return call(items.data(), error); });
    items.pop_back();
    return items;
}

template <class One, class Other> std::size_t as_long(values<One> one, values<Other> other, const char *refusal) {
    if (one.size() != other.size()) {
        throw std::invalid_argument(refusal);
    }
    return one.size();
}

} // namespace detail

// The version of the library that was loaded; that of the header is POULTER_VERSION.
inline std::string_view version() { return poulter_version(); }

// Throws unless the library that was loaded is one that this header describes.
inline void require_abi() {
    if (poulter_abi_version() != POULTER_ABI_VERSION) {
        throw std::runtime_error("the poulter library that was loaded has another binary interface than its header");
    }
}

// Answers one request; JSON in, JSON out.
inline std::string evaluate(std::string_view request) {
    return detail::text([&](poulter_buffer *out, poulter_error *error) {
        return poulter_evaluate_json(detail::bytes(request), request.size(), out, error);
    });
}

inline double convert(double value, std::uint32_t from, std::uint32_t to) {
    return detail::out<double>(
        [&](double *out, poulter_error *error) { return poulter_convert(value, from, to, out, error); });
}

// A NaN stays a NaN: what was missing stays missing.
inline std::vector<double> convert(values<double> numbers, std::uint32_t from, std::uint32_t to) {
    return detail::each<double>(numbers.size(), [&](double *out, poulter_error *error) {
        return poulter_convert_array(numbers.data(), numbers.size(), from, to, out, error);
    });
}

// The kill along a log of one place, in powers of ten. `scheme` is one of POULTER_SCHEME_*.
inline double lethality(values<double> elapsed_s, values<double> temp_degC, std::uint32_t scheme) {
    const auto rows = detail::as_long(elapsed_s, temp_degC, "elapsed_s and temp_degC must be equally long");
    return detail::out<double>([&](double *out, poulter_error *error) {
        return poulter_lethality(elapsed_s.data(), temp_degC.data(), rows, scheme, out, error);
    });
}

// Growth along a log of one place without lag and without a ceiling, in powers of ten. `model` is one of
// POULTER_GROWTH_MODEL_*.
inline double growth(values<double> elapsed_s, values<double> temp_degC, std::uint32_t model) {
    const auto rows = detail::as_long(elapsed_s, temp_degC, "elapsed_s and temp_degC must be equally long");
    return detail::out<double>([&](double *out, poulter_error *error) {
        return poulter_growth(elapsed_s.data(), temp_degC.data(), rows, model, out, error);
    });
}

// The temperature of one place over time.
struct curve {
    std::vector<double> elapsed_s;
    std::vector<double> temp_degC;
};

// Simulates a thaw, a roast, a rest or cooling; `place` counts the places of the answer from 0, as poulter_simulate says.
inline curve simulate(std::string_view request, std::uint32_t place = 0) {
    const auto *text = detail::bytes(request);
    // The library answers twice, for the count and for the numbers; the same request gives the same rows.
    const auto rows = detail::out<std::size_t>([&](std::size_t *out, poulter_error *error) {
        return poulter_simulate(text, request.size(), place, nullptr, nullptr, 0, out, error);
    });
    curve found{std::vector<double>(rows), std::vector<double>(rows)};
    detail::out<std::size_t>([&](std::size_t *out, poulter_error *error) {
        return poulter_simulate(text, request.size(), place, found.elapsed_s.data(), found.temp_degC.data(), rows, out,
                                error);
    });
    return found;
}

// The kill along a simulated roast or rest, or the growth along the cooling of meat, in powers of ten; the rows are those
// of simulate. It explains and is no verdict.
inline std::vector<double> simulate_log10(std::string_view request, std::uint32_t place = 0) {
    const auto *text = detail::bytes(request);
    const auto rows = detail::out<std::size_t>([&](std::size_t *out, poulter_error *error) {
        return poulter_simulate_log10(text, request.size(), place, nullptr, 0, out, error);
    });
    std::vector<double> found(rows);
    detail::out<std::size_t>([&](std::size_t *out, poulter_error *error) {
        return poulter_simulate_log10(text, request.size(), place, found.data(), rows, out, error);
    });
    return found;
}

// The logs of many kitchens, one reading a row: the number of its log from 0, of its place in `places`, seconds since
// the log began, and degrees Celsius, NaN where none was made. Without `place` every reading is of the first place.
struct log_table {
    values<std::uint32_t> log;
    values<double> elapsed_s;
    values<double> temp_degC;
    std::optional<values<std::uint32_t>> place = std::nullopt;
    std::optional<std::string_view> places = std::nullopt; // "breast,thigh"; the core when left out
};

struct log_verdicts {
    std::vector<poulter_log_row> rows; // one for each log
    std::string details;               // reasons, rules, places and faults as a JSON object of columns
};

// Judges `logs` logs at once on all cores. `question` is JSON, as poulter_check_logs says.
inline log_verdicts check_logs(std::string_view question, const log_table &table, std::size_t logs) {
    constexpr auto *refusal = "the columns of a table of logs must be equally long";
    const auto rows = detail::as_long(table.log, table.elapsed_s, refusal);
    detail::as_long(table.log, table.temp_degC, refusal);
    if (table.place) {
        detail::as_long(table.log, *table.place, refusal);
    }
    log_verdicts found{std::vector<poulter_log_row>(logs + 1), {}}; // one more, so that it always has an address
    found.details = detail::text([&](poulter_buffer *out, poulter_error *error) {
        return poulter_check_logs(detail::bytes(question), question.size(),
                                  table.places ? detail::bytes(*table.places) : nullptr,
                                  table.places ? table.places->size() : 0, table.log.data(),
                                  table.place ? table.place->data() : nullptr, table.elapsed_s.data(),
                                  table.temp_degC.data(), rows, logs, found.rows.data(), out, error);
    });
    found.rows.pop_back();
    return found;
}

// Plans an order in JSON and writes a sheet of it; xlsx is bytes, every other format UTF-8 text. The words are those of
// poulter_worksheet.
inline std::string worksheet(std::string_view order, const std::string &kind = "host",
                             const std::string &format = "text") {
    return detail::text([&](poulter_buffer *out, poulter_error *error) {
        return poulter_worksheet(detail::bytes(order), order.size(), kind.c_str(), format.c_str(), out, error);
    });
}

// A minimum inside, as poulter_minimum, with the hold left out where there is none.
struct minimum_temperature {
    double temp_degC;
    double temp_degF;
    std::optional<double> hold_s;
    std::uint32_t comparison;
    bool binds_in_fahrenheit;
};

// A bird under a standard; the members are POULTER_STANDARD_*, POULTER_SPECIES_* and POULTER_CUT_*.
struct bird {
    std::uint32_t standard = POULTER_STANDARD_US_CONSUMER;
    std::uint32_t species = POULTER_SPECIES_TURKEY;
    std::uint32_t cut = POULTER_CUT_WHOLE;

    poulter_time thaw_time(std::uint32_t method, double mass_kg) const {
        return detail::out<poulter_time>([&](poulter_time *out, poulter_error *error) {
            return poulter_thaw_time(standard, species, cut, method, mass_kg, out, error);
        });
    }
    poulter_time roast_time(double mass_kg, bool stuffed = false) const {
        return detail::out<poulter_time>([&](poulter_time *out, poulter_error *error) {
            return poulter_roast_time(standard, species, cut, stuffed, mass_kg, out, error);
        });
    }
    poulter::minimum_temperature minimum_temperature(bool stuffing = false) const {
        const auto found = detail::out<poulter_minimum>([&](poulter_minimum *out, poulter_error *error) {
            return poulter_minimum_temperature(standard, species, cut, stuffing, out, error);
        });
        const auto hold = found.hold_s > 0 ? std::optional<double>(found.hold_s) : std::nullopt;
        return {found.temp_degC, found.temp_degF, hold, found.comparison, found.binds_in_fahrenheit != 0};
    }
    double purchase_mass_kg(std::uint32_t adults, std::uint32_t children = 0,
                            std::uint32_t leftovers = POULTER_LEFTOVERS_NONE) const {
        return detail::out<double>([&](double *out, poulter_error *error) {
            return poulter_purchase_mass(standard, species, cut, adults, children, leftovers, out, error);
        });
    }
    double wet_brine_salt_kg(double water_l) const {
        return detail::out<double>([&](double *out, poulter_error *error) {
            return poulter_wet_brine_salt(standard, species, cut, water_l, out, error);
        });
    }
    double dry_brine_salt_kg(double mass_kg, std::uint32_t kind = POULTER_SALT_KIND_KOSHER_FLAKE) const {
        return detail::out<double>([&](double *out, poulter_error *error) {
            return poulter_dry_brine_salt(standard, species, cut, kind, mass_kg, out, error);
        });
    }

    // The same for many at once: one answer for each, or an error that names the place of the one that is refused.
    std::vector<poulter_time> thaw_times(std::uint32_t method, values<double> mass_kg) const {
        return detail::each<poulter_time>(mass_kg.size(), [&](poulter_time *out, poulter_error *error) {
            return poulter_thaw_times(standard, species, cut, method, mass_kg.data(), mass_kg.size(), out, error);
        });
    }
    std::vector<poulter_time> roast_times(values<double> mass_kg, bool stuffed = false) const {
        return detail::each<poulter_time>(mass_kg.size(), [&](poulter_time *out, poulter_error *error) {
            return poulter_roast_times(standard, species, cut, stuffed, mass_kg.data(), mass_kg.size(), out, error);
        });
    }
    std::vector<double> purchase_masses_kg(values<std::uint32_t> adults, values<std::uint32_t> children,
                                           std::uint32_t leftovers = POULTER_LEFTOVERS_NONE) const {
        const auto parties = detail::as_long(adults, children, "adults and children must be equally long");
        return detail::each<double>(parties, [&](double *out, poulter_error *error) {
            return poulter_purchase_masses(standard, species, cut, adults.data(), children.data(), parties, leftovers,
                                           out, error);
        });
    }
    std::vector<double> wet_brine_salts_kg(values<double> water_l) const {
        return detail::each<double>(water_l.size(), [&](double *out, poulter_error *error) {
            return poulter_wet_brine_salts(standard, species, cut, water_l.data(), water_l.size(), out, error);
        });
    }
    std::vector<double> dry_brine_salts_kg(values<double> mass_kg,
                                           std::uint32_t kind = POULTER_SALT_KIND_KOSHER_FLAKE) const {
        return detail::each<double>(mass_kg.size(), [&](double *out, poulter_error *error) {
            return poulter_dry_brine_salts(standard, species, cut, kind, mass_kg.data(), mass_kg.size(), out, error);
        });
    }
};

// One step of a plan. The views last as long as the plan.
struct step {
    std::string_view id, title;
    std::string_view earliest, planned, latest; // RFC 9557
    std::int64_t earliest_unix_s, planned_unix_s, latest_unix_s;
    poulter_time duration;
};

class plan {
public:
    bool is_feasible() const noexcept { return poulter_plan_is_feasible(handle_.get()) != 0; }
    // The whole answer; it lasts as long as the plan.
    std::string_view json() const noexcept { return detail::view(poulter_plan_json(handle_.get())); }
    std::size_t size() const noexcept { return poulter_plan_step_count(handle_.get()); }
    step operator[](std::size_t index) const {
        const auto found = detail::out<poulter_step>([&](poulter_step *out, poulter_error *error) {
            return poulter_plan_step(handle_.get(), index, out, error);
        });
        return {detail::view(found.id),      detail::view(found.title),  detail::view(found.earliest),
                detail::view(found.planned), detail::view(found.latest), found.earliest_unix_s,
                found.planned_unix_s,        found.latest_unix_s,        found.duration};
    }
    std::vector<step> steps() const {
        std::vector<step> all;
        all.reserve(size());
        for (std::size_t index = 0; index < size(); ++index) {
            all.push_back((*this)[index]);
        }
        return all;
    }

private:
    friend class planner;
    explicit plan(poulter_plan *handle) noexcept : handle_(handle) {}
    struct free_plan {
        void operator()(poulter_plan *plan) const noexcept { poulter_plan_free(plan); }
    };
    std::unique_ptr<poulter_plan, free_plan> handle_;
};

class planner {
public:
    // By the built-in rules, and the caller's own in TOML where given.
    explicit planner(std::optional<std::string_view> house_rules = std::nullopt)
        : handle_(detail::out<poulter_planner *>([&](poulter_planner **out, poulter_error *error) {
              const auto *rules = house_rules ? detail::bytes(*house_rules) : nullptr;
              return poulter_planner_new(rules, house_rules ? house_rules->size() : 0, out, error);
          })) {}

    // An order in TOML or JSON.
    poulter::plan plan(std::string_view order) const {
        return poulter::plan(detail::out<poulter_plan *>([&](poulter_plan **out, poulter_error *error) {
            return poulter_planner_plan(handle_.get(), detail::bytes(order), order.size(), out, error);
        }));
    }

private:
    struct free_planner {
        void operator()(poulter_planner *planner) const noexcept { poulter_planner_free(planner); }
    };
    std::unique_ptr<poulter_planner, free_planner> handle_;
};

// The probes in one roast, reading by reading.
class probe {
public:
    // A `forecast` request in JSON; `kind` and readings may be left out. The ensemble is computed here.
    explicit probe(std::string_view request)
        : handle_(detail::out<poulter_probe *>([&](poulter_probe **out, poulter_error *error) {
              return poulter_probe_new(detail::bytes(request), request.size(), out, error);
          })) {}

    // Seconds since the roast went in, and degrees Celsius; `place` is one of POULTER_PROBE_PLACE_*. A reading that is
    // refused changes nothing.
    void push(std::uint32_t place, double elapsed_s, double temp_degC) {
        detail::check([&](poulter_error *error) {
            return poulter_probe_push(handle_.get(), place, elapsed_s, temp_degC, error);
        });
    }
    // Verdict, kill and forecast up to now; a time that cannot be told is NaN.
    poulter_probe_state ask() const {
        return detail::out<poulter_probe_state>([&](poulter_probe_state *out, poulter_error *error) {
            return poulter_probe_ask(handle_.get(), out, error);
        });
    }
    // The same in full.
    std::string json() const {
        return detail::text([&](poulter_buffer *out, poulter_error *error) {
            return poulter_probe_ask_json(handle_.get(), out, error);
        });
    }

private:
    struct free_probe {
        void operator()(poulter_probe *probe) const noexcept { poulter_probe_free(probe); }
    };
    std::unique_ptr<poulter_probe, free_probe> handle_;
};

} // namespace poulter

#endif // POULTER_HPP
