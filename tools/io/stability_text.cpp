#include <fmt/format.h>

#include <string>

#include "tools/io/field_run.hpp"
#include "tools/io/numbers.hpp"

namespace tuft::io {

std::string stability_text(const flow2d::Steadiness& state, bool steady) {
  std::string out;
  if (state.left > 0.0)
    out = fmt::format(
        "A steady state that is not stable was left: a disturbance grows there at {} per second. What is "
        "given "
        "is where the air went from it.",
        significant(state.left, 2));
  if (!steady) return out;
  const std::string gap = out.empty() ? "" : " ";
  if (!state.known) return out + gap + "Whether this steady state is stable could not be told.";
  if (state.growth > 0.0)
    out +=
        gap + fmt::format(
                  "This steady state is not stable: a disturbance grows at {} per second and swings {} times "
                  "a second. The air swings about it; tuft field --until shows how far.",
                  significant(state.growth, 2), significant(state.swings, 2));
  return out;
}

}  // namespace tuft::io
