// Poulter for C++17: the C interface of poulter.h as values, views and exceptions. Header only.
//
// A failure is a poulter::error, which owns its texts. Food that is not safe is an answer, never an exception.
// planner and plan are move-only; const functions of one object may be called from any number of threads.
#ifndef POULTER_HPP
#define POULTER_HPP

#include <poulter.h>

#include <cstddef>
#include <cstdint>
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

} // namespace detail

// Throws unless the library that was loaded is one that this header describes.
inline void require_abi() {
    if (poulter_abi_version() != POULTER_ABI_VERSION) {
        throw std::runtime_error("the poulter library that was loaded has another binary interface than its header");
    }
}

// Answers one request; JSON in, JSON out.
inline std::string evaluate(std::string_view request) {
    poulter_buffer buffer{nullptr, 0};
    detail::check([&](poulter_error *error) {
        return poulter_evaluate_json(detail::bytes(request), request.size(), &buffer, error);
    });
    const std::unique_ptr<poulter_buffer, void (*)(poulter_buffer *)> owner(&buffer, poulter_buffer_free);
    return {reinterpret_cast<const char *>(buffer.data), buffer.len};
}

inline double convert(double value, std::uint32_t from, std::uint32_t to) {
    return detail::out<double>(
        [&](double *out, poulter_error *error) { return poulter_convert(value, from, to, out, error); });
}

inline std::vector<double> convert(const std::vector<double> &values, std::uint32_t from, std::uint32_t to) {
    std::vector<double> converted(values.size() + 1); // one more, so that it always has an address
    const double *const given = values.empty() ? converted.data() : values.data();
    detail::check([&](poulter_error *error) {
        return poulter_convert_array(given, values.size(), from, to, converted.data(), error);
    });
    converted.pop_back();
    return converted;
}

// The kill along a log of one place, in powers of ten. `scheme` is one of POULTER_SCHEME_*.
inline double lethality(const std::vector<double> &elapsed_s, const std::vector<double> &temp_degC,
                        std::uint32_t scheme) {
    if (elapsed_s.size() != temp_degC.size()) {
        throw std::invalid_argument("elapsed_s and temp_degC must be equally long");
    }
    return detail::out<double>([&](double *out, poulter_error *error) {
        return poulter_lethality(elapsed_s.data(), temp_degC.data(), elapsed_s.size(), scheme, out, error);
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

} // namespace poulter

#endif // POULTER_HPP
