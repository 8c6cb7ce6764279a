#include "tools/io/warmup.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "tools/io/finite.hpp"
#include "tools/io/utf8.hpp"

namespace tuft::output {
namespace {

void require(double value, const std::string& name) {
  if (!std::isfinite(value))
    throw NotFinite("the result warmup." + printable(name) + " is not a finite number");
}

}  // namespace

std::string elapsed_text(double seconds) {
  const long long whole = std::llround(std::max(seconds, 0.0));
  if (whole < 100) return fmt::format("{} s", whole);
  if (whole < 3600) return fmt::format("{} min {} s", whole / 60, whole % 60);
  const long long minutes = std::llround(seconds / 60.0);
  return fmt::format("{} h {} min", minutes / 60, minutes % 60);
}

void require_finite(const Warmup& warmup) {
  for (const double time : warmup.time) require(time, "time");
  for (const WarmupColumn& column : warmup.columns)
    for (const double value : column.values) require(value, column.name);
  for (const WarmupRow& row : warmup.rows)
    for (const double value : {row.start, row.hottest, row.hottest_at, row.end, row.settles})
      require(value, row.name);
  for (const WarmupMoment& moment : warmup.moments) require(moment.time, "events");
  for (const double value : {warmup.distance, warmup.soak, warmup.difference, warmup.given, warmup.left,
                             warmup.stored, warmup.energy_error})
    require(value, "summary");
}

}  // namespace tuft::output
