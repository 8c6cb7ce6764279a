#include "geometry/casefile/quantity.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cerrno>
#include <charconv>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <optional>
#include <utility>
#include <vector>

#include "geometry/casefile/document.hpp"
#include "geometry/casefile/meant.hpp"

namespace tuft::casefile {
namespace {

using geometry::SpreadKind;
using geometry::Value;

// A number and the unit text that follows it.
struct Term {
  double number = 0.0;
  std::string_view unit;
};

constexpr std::size_t kMostSteps = 33;  // numbers of a spread in steps: finer than anything measured tells

Quantity fault(std::string message, std::string hint = "") {
  return {{}, {}, std::move(message), std::move(hint)};
}

std::string_view trimmed(std::string_view text) {
  const std::size_t first = text.find_first_not_of(' ');
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(' ') - first + 1);
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

// Reads the decimal number that a text begins with, of whatever locale; returns how many bytes it takes, 0:
// none. Infinite where it is out of range; that is found out when the whole is known.
std::size_t read_decimal(std::string_view text, double& number) {
  constexpr double kTooLarge = std::numeric_limits<double>::infinity();
#ifdef __EMSCRIPTEN__
  // Its library knows no std::from_chars of real numbers yet; a page's locale is always "C".
  const std::string decimal(text.substr(0, text.find_first_not_of("0123456789.eE+-")));
  char* end = nullptr;
  errno = 0;
  number = std::strtod(decimal.c_str(), &end);
  if (errno == ERANGE) number = kTooLarge;
  return static_cast<std::size_t>(end - decimal.c_str());
#else
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error == std::errc::result_out_of_range) number = kTooLarge;
  const bool read = error == std::errc() || error == std::errc::result_out_of_range;
  return read ? static_cast<std::size_t>(end - text.data()) : 0;
#endif
}

// Splits "4.6e3 rpm"; no value when it does not begin with a finite decimal number. "010" is refused rather
// than read as 8 or 10.
std::optional<Term> split_term(std::string_view text) {
  text = trimmed(text);
  bool negative = false;
  if (!text.empty() && (text[0] == '+' || text[0] == '-')) {
    negative = text[0] == '-';
    text.remove_prefix(1);
  } else if (text.substr(0, 3) == "\u2212") {  // the typographic minus
    negative = true;
    text.remove_prefix(3);
  }
  const bool starts =
      !text.empty() && (is_digit(text[0]) || (text[0] == '.' && text.size() > 1 && is_digit(text[1])));
  if (!starts || (text.size() > 1 && text[0] == '0' && is_digit(text[1]))) return std::nullopt;
  Term term;
  const std::size_t length = read_decimal(text, term.number);
  if (length == 0 || std::isnan(term.number)) return std::nullopt;
  if (negative) term.number = -term.number;
  term.unit = trimmed(text.substr(length));
  const bool goes_on = !term.unit.empty() && (is_digit(term.unit[0]) || term.unit[0] == ',');
  if (goes_on && term.unit.substr(0, 2) != "1/") return std::nullopt;
  return term;
}

Quantity no_number(std::string_view text, Dimension wanted) {
  const DimensionInfo& info = dimension_info(wanted);
  const std::string example = fmt::format("expected {} ({})", info.article, info.examples);
  const std::string_view bare = trimmed(text);
  if (bare.size() > 1 && bare[0] == '0' && is_digit(bare[1]))
    return fault(fmt::format("{} begins with a zero", in_quotes(bare)),
                 "write the number without the leading zero");
  const std::size_t comma = bare.find(',');
  if (comma != std::string_view::npos && comma > 0 && is_digit(bare[comma - 1]))
    return fault(fmt::format("{} has a comma; {}", in_quotes(bare), example),
                 "write the decimals after a point");
  return fault(fmt::format("{} is not a number with a unit; {}", in_quotes(bare), example));
}

// The unit of a term of the wanted dimension, or what is wrong with it.
Quantity check_unit(std::string_view text, std::string_view unit_text, Dimension wanted, Unit& unit) {
  const DimensionInfo& info = dimension_info(wanted);
  if (unit_text.empty()) {
    unit = {wanted, info.article, 1.0, 0.0, true};
    if (wanted == Dimension::number || wanted == Dimension::share) return {};
    return fault(
        fmt::format("{} has no unit; expected {} ({})", in_quotes(text), info.article, info.examples));
  }
  unit = find_unit(unit_text);
  if (!unit.known)
    return fault(fmt::format("{}: there is no unit {}; expected {} ({})", in_quotes(text),
                             in_quotes(unit_text), info.article, info.examples));
  // A permeability is measured in the unit of an area.
  if (wanted == Dimension::permeability && unit.dimension == Dimension::area) unit.dimension = wanted;
  // A difference of temperatures is measured in their unit, without its zero.
  const bool kelvins = wanted == Dimension::difference && unit.dimension == Dimension::temperature;
  if (kelvins && unit.offset == 0.0) unit.dimension = wanted;
  if (unit.dimension == wanted) return {};
  if (kelvins)
    return fault(fmt::format("{} is a point on a scale, expected {} ({})", in_quotes(text), info.article,
                             info.examples),
                 "write the difference in K");
  const bool letter_only = wanted == Dimension::temperature && (unit_text == "C" || unit_text == "F");
  return fault(
      fmt::format("{} is {}, expected {} ({})", in_quotes(text), unit.what, info.article, info.examples),
      letter_only ? fmt::format("write °{}", unit_text) : "");
}

Quantity read_plain(std::string_view text, Dimension wanted) {
  const std::optional<Term> term = split_term(text);
  if (!term) return no_number(text, wanted);
  Unit unit;
  text = trimmed(text);
  Quantity out = check_unit(text, term->unit, wanted, unit);
  if (out.ok() && wanted == Dimension::share && term->unit.empty() && std::abs(term->number) > 1.0)
    return fault(fmt::format("{} is a share above 1", in_quotes(text)), fmt::format("write {} %", text));
  if (out.ok()) out.value = Value(unit.factor * term->number + unit.offset);
  return out;
}

// Half the width of a normal's central 95 % [SI], from the text after the ±.
Quantity read_half_width(std::string_view text, std::string_view main_unit, Dimension wanted,
                         double nominal) {
  const std::optional<Term> term = split_term(text);
  if (!term) return no_number(text, wanted);
  if (term->number < 0.0) return fault(fmt::format("the spread {} is negative", in_quotes(trimmed(text))));
  const bool percent = term->unit == "%" || term->unit == "percent";
  const bool of_the_value = percent && wanted != Dimension::share;  // of a share, % are points
  if (of_the_value && wanted == Dimension::temperature)
    return fault("the spread of a temperature is a difference, not a share of it", "write ± 1 K");
  Quantity out;
  if (of_the_value) {
    out.value = Value(std::abs(nominal) * term->number * 0.01);
    return out;
  }
  if (term->unit.empty() && !main_unit.empty())
    return fault(fmt::format("the spread {} has no unit", in_quotes(trimmed(text))),
                 fmt::format("write ± {0} {1} or ± {0} %", trimmed(text), main_unit));
  Unit unit;
  out = check_unit(trimmed(text), term->unit, wanted, unit);
  if (out.ok()) out.value = Value(unit.factor * term->number);  // a difference: no offset
  return out;
}

Quantity read_normal(std::string_view left, std::string_view right, Dimension wanted) {
  const std::optional<Term> main = split_term(left);
  if (!main) return no_number(left, wanted);
  // "35 ± 3 W": the unit stands once, at the end.
  std::string joined(trimmed(left));
  const std::optional<Term> second = split_term(right);
  const bool unit_once = main->unit.empty() && second && !second->unit.empty() && wanted != Dimension::number;
  const bool shared = unit_once && (wanted == Dimension::share ? main->number > 1.0 : second->unit != "%");
  if (shared) joined += " " + std::string(second->unit);
  Quantity out = read_plain(joined, wanted);
  if (!out.ok()) return out;
  const std::string_view unit = shared ? second->unit : main->unit;
  const Quantity half = read_half_width(right, unit, wanted, *out.value);
  if (!half.ok()) return half;
  const double nominal = *out.value;
  if (*half.value > 0.0)
    out.value = Value(nominal, SpreadKind::normal, nominal - *half.value, nominal + *half.value);
  return out;
}

Quantity read_log_uniform(std::string_view left, std::string_view right, Dimension wanted) {
  Quantity out = read_plain(left, wanted);
  if (!out.ok()) return out;
  const std::optional<Term> factor = split_term(right);
  if (!factor || !factor->unit.empty() || factor->number < 1.0 || factor->number > 1e6)
    return fault(
        fmt::format("the factor {} after */ is not a number from 1 to 1e6", in_quotes(trimmed(right))));
  const double nominal = *out.value;
  if (wanted == Dimension::temperature || nominal <= 0.0)
    return fault(fmt::format("{} can't have a spread by a factor", in_quotes(trimmed(left))),
                 "write ± and a difference");
  if (factor->number > 1.0)
    out.value = Value(nominal, SpreadKind::log_uniform, nominal / factor->number, nominal * factor->number);
  return out;
}

std::vector<std::string_view> split_range(std::string_view text) {
  std::vector<std::string_view> parts;
  for (std::size_t at = text.find(".."); at != std::string_view::npos; at = text.find("..")) {
    parts.push_back(text.substr(0, at));
    text.remove_prefix(at + 2);
  }
  parts.push_back(text);
  return parts;
}

// Parts of a range take the unit of the last one unless they have their own.
Quantity read_range(std::string_view text, Dimension wanted) {
  const std::vector<std::string_view> parts = split_range(text);
  const bool dotted = text.find("...") != std::string_view::npos;
  if (dotted || (parts.size() > 3 && (parts.size() % 2 == 0 || parts.size() > kMostSteps)))
    return fault(fmt::format("{} is not a range", in_quotes(text)),
                 "write 3..5 mm, or 3..4..5 mm with the likeliest value");
  const std::optional<Term> last = split_term(parts.back());
  if (!last) return no_number(parts.back(), wanted);
  std::vector<double> values;
  for (const std::string_view part : parts) {
    const std::optional<Term> term = split_term(part);
    if (!term) return no_number(part, wanted);
    const std::string whole =
        std::string(trimmed(part)) + (term->unit.empty() ? " " + std::string(last->unit) : "");
    const Quantity one = read_plain(whole, wanted);
    if (!one.ok()) return one;
    values.push_back(*one.value);
  }
  if (!std::is_sorted(values.begin(), values.end()))
    return fault(fmt::format("the range {} does not rise", in_quotes(text)), "write the smaller value first");
  Quantity out;
  const double low = values.front();
  const double high = values.back();
  const double nominal = values.size() > 2 ? values[values.size() / 2] : low + 0.5 * (high - low);
  const SpreadKind kind = values.size() > 3    ? SpreadKind::steps
                          : values.size() == 3 ? SpreadKind::triangular
                                               : SpreadKind::uniform;
  out.value = low < high ? Value(nominal, kind, low, high) : Value(nominal);
  if (out.value.spread == SpreadKind::steps) out.steps = std::move(values);
  return out;
}

struct Split {
  std::size_t at = std::string_view::npos;
  std::size_t length = 0;
};
Split find_mark(std::string_view text, std::initializer_list<std::string_view> marks) {
  for (const std::string_view mark : marks) {
    const std::size_t at = text.find(mark);
    if (at != std::string_view::npos) return {at, mark.size()};
  }
  return {};
}

}  // namespace

namespace {

constexpr std::size_t kLongest = 400;

Quantity read_as_written(std::string_view text, Dimension wanted) {
  if (text.size() > kLongest || text.find('\n') != std::string_view::npos)
    return no_number(text.substr(0, kLongest), wanted);
  const Split normal = find_mark(text, {"±", "+/-", "+-"});
  const Split factor = find_mark(text, {"*/"});
  const bool range = text.find("..") != std::string_view::npos;
  if ((normal.length > 0) + (factor.length > 0) + range > 1)
    return fault(fmt::format("{} has more than one kind of spread", in_quotes(text)),
                 "write one of ±, .. and */");
  Quantity out;
  const Split& mark = normal.length > 0 ? normal : factor;
  const bool blank_side = mark.length > 0 && (trimmed(text.substr(0, mark.at)).empty() ||
                                              trimmed(text.substr(mark.at + mark.length)).empty());
  if (blank_side) return no_number(text, wanted);
  if (normal.length > 0) {
    out = read_normal(text.substr(0, normal.at), text.substr(normal.at + normal.length), wanted);
  } else if (factor.length > 0) {
    out = read_log_uniform(text.substr(0, factor.at), text.substr(factor.at + 2), wanted);
  } else {
    out = range ? read_range(text, wanted) : read_plain(text, wanted);
  }
  const bool finite =
      std::isfinite(*out.value) && std::isfinite(out.value.low) && std::isfinite(out.value.high);
  if (out.ok() && !finite) return fault(fmt::format("{} is no number a computer can hold", in_quotes(text)));
  return out;
}

// The fault of a text that can be read as soon as it is written as it was probably meant.
Quantity meant_otherwise(std::string_view text, Dimension wanted, Quantity fault_as_written) {
  if (text.size() > kLongest) return fault_as_written;
  const Meant meant = meant_by(text);
  if (meant.wrong.empty() || !read_as_written(meant.text, wanted).ok()) return fault_as_written;
  const DimensionInfo& info = dimension_info(wanted);
  return fault(
      fmt::format("{} {}; expected {} ({})", in_quotes(text), meant.wrong, info.article, info.examples),
      fmt::format("write {}", meant.text));
}

}  // namespace

Quantity read_quantity(std::string_view text, Dimension wanted) {
  text = trimmed(text);
  Quantity out = read_as_written(text, wanted);
  return out.ok() ? out : meant_otherwise(text, wanted, std::move(out));
}

std::string write_quantity(const Value& value, const std::string& unit_text,
                           const std::vector<double>& steps) {
  const Unit unit = unit_text.empty() ? Unit{Dimension::number, "", 1.0, 0.0, true} : find_unit(unit_text);
  const auto written = [&](double si) { return (si - unit.offset) / unit.factor + 0.0; };
  const auto number = [&](double si) { return fmt::format("{:.4g}", written(si)); };
  const std::string space = unit_text.empty() ? "" : " ";
  const std::string nominal = number(*value);
  switch (value.spread) {
    case SpreadKind::none:
      break;
    case SpreadKind::normal: {
      const std::string half = fmt::format("{:.3g}", (value.high - value.low) / 2 / unit.factor);
      const bool kelvin = unit.offset != 0.0;
      return nominal + space + unit_text + " ± " + half + space + (kelvin ? "K" : unit_text);
    }
    case SpreadKind::uniform:
      return number(value.low) + ".." + number(value.high) + space + unit_text;
    case SpreadKind::steps: {
      // A thousandth of the whole is finer than any step is known.
      const double fine =
          std::pow(10.0, std::floor(std::log10((value.high - value.low) / unit.factor)) - 3.0);
      std::string text;
      for (const double each : steps)
        text += (text.empty() ? "" : "..") + fmt::format("{:.10g}", fine * std::round(written(each) / fine));
      return text + space + unit_text;
    }
    case SpreadKind::triangular:
      return number(value.low) + ".." + nominal + ".." + number(value.high) + space + unit_text;
    case SpreadKind::log_uniform:
      return nominal + space + unit_text + fmt::format(" */ {:.3g}", std::sqrt(value.high / value.low));
  }
  return nominal + space + unit_text;
}

}  // namespace tuft::casefile
