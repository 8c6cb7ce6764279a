#include "tools/measured/tables.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace tuft::measured {
namespace {

/// Three significant digits.
std::string number(double value) {
  const int decimals =
      value == 0.0 ? 0 : std::max(0, 2 - static_cast<int>(std::floor(std::log10(std::abs(value)))));
  return fmt::format("{:.{}f}", value, decimals);
}

std::string range(double low, double high) { return number(low) + " to " + number(high); }

std::string what(const Value& value) {
  const std::string against = value.against.empty() ? "" : " over that of " + value.against;
  return value.condition + ": " + value.quantity + " of " + value.of + against + " [" + value.unit + "]";
}

std::string replaced(const std::string& page, const std::string& name, const std::string& text) {
  const std::string begin = "<!-- " + name + " -->\n", end = "<!-- end of " + name + " -->";
  const std::size_t from = page.find(begin), to = page.find(end);
  if (from == std::string::npos || to == std::string::npos || to < from)
    throw std::runtime_error("the page has no part between '" + begin + "' and '" + end + "'");
  return page.substr(0, from + begin.size()) + text + page.substr(to);
}

/// Where "N of M" that ends at `end` begins; `end` where there is none.
std::size_t start_of_share(const std::string& text, std::size_t end) {
  static const std::string digits = "0123456789", of = " of ";
  const auto before_digits = [&](std::size_t from) {
    while (from > 0 && digits.find(text[from - 1]) != std::string::npos) --from;
    return from;
  };
  const std::size_t second = before_digits(end);
  if (second == end || second < of.size() || text.compare(second - of.size(), of.size(), of) != 0) return end;
  const std::size_t first = before_digits(second - of.size());
  return first == second - of.size() ? end : first;
}

}  // namespace

std::string value_table(const std::vector<Compared>& values) {
  std::string text =
      "| case | what | measured | range | predicted | 90 % interval | over measured | lies in it | counts |\n"
      "|---|---|---|---|---|---|---|---|---|\n";
  for (const Compared& compared : values) {
    const Value& value = compared.value;
    text += fmt::format("| `{}` | {} | {} | {} | {} | {} | {:.2f} | {} | {} |\n", value.file, what(value),
                        number(value.measured), range(value.low, value.high), number(compared.predicted),
                        range(compared.low, compared.high), compared.predicted / value.measured,
                        compared.inside()    ? "yes"
                        : compared.touches() ? "ranges overlap"
                                             : "no",
                        value.counts ? "yes" : "trend");
  }
  return text;
}

std::string trend_table(const std::vector<Judged>& trends) {
  std::string text =
      "| case | sentence | published | program | samples in which it is true | agrees "
      "|\n|---|---|---|---|---|---|\n";
  for (const Judged& judged : trends)
    text += fmt::format("| `{}` | {} | {} | {} | {:.0f} % | {} |\n", judged.trend.file, judged.say,
                        judged.trend.published ? "true" : "false", judged.nominal ? "true" : "false",
                        100.0 * judged.share, judged.agrees() ? "yes" : "**no**");
  return text;
}

std::string coverage_text(const std::vector<Compared>& values) {
  const Coverage covered = coverage(values);
  return fmt::format(
      "Of {} measured values that count, {} lie in the 90 % interval of the prediction ({:.0f} %); for {} "
      "the\n"
      "interval and the range of the measurement overlap ({:.0f} %).\n",
      covered.counted, covered.inside, 100.0 * covered.inside / covered.counted, covered.touched,
      100.0 * covered.touched / covered.counted);
}

std::string with_coverage(const std::string& text, const std::vector<Compared>& values) {
  static const std::string words = " measured values";
  const Coverage covered = coverage(values);
  const std::string now = fmt::format("{} of {}", covered.inside, covered.counted);
  std::string written = text;
  for (std::size_t at = written.find(words); at != std::string::npos; at = written.find(words, at)) {
    const std::size_t from = start_of_share(written, at);
    written.replace(from, at - from, from == at ? "" : now);
    at = from + (from == at ? 0 : now.size()) + words.size();
  }
  return written;
}

std::string page_with(const std::string& page, const Comparison& comparison) {
  const std::string values = replaced(page, "values", value_table(comparison.values));
  const std::string trends = replaced(values, "trends", trend_table(comparison.trends));
  return replaced(trends, "coverage", coverage_text(comparison.values));
}

}  // namespace tuft::measured
