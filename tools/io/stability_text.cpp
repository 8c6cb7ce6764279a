#include <fmt/format.h>

#include <string>

#include "tools/io/field_run.hpp"
#include "tools/io/numbers.hpp"

namespace tuft::io {

std::string stability_text(const flow2d::Steadiness& state, bool steady) {
  std::string out;
  if (state.left > 0.0)
    out = fmt::format(
        "The first steady state found is not stable: a disturbance grows there at a rate of {} per second. "
        "The results are those of the state that the air went to from there.",
        significant(state.left, 2));
  if (!steady) return out;
  const std::string gap = out.empty() ? "" : " ";
  if (!state.known) return out + gap + "It is not known whether this steady state is stable.";
  if (state.growth > 0.0 && state.swings == 0.0)
    out += gap + fmt::format(
                     "A disturbance of this steady state may grow, at a rate of {} per second. That is slow "
                     "beside the flow, so the state is kept.",
                     significant(state.growth, 2));
  if (state.growth > 0.0 && state.swings > 0.0)
    out += gap + fmt::format(
                     "This steady state is not stable: a disturbance grows at a rate of {} per second and "
                     "oscillates at {} Hz. The air oscillates about it; tuft field --until shows how far.",
                     significant(state.growth, 2), significant(state.swings, 2));
  return out;
}

}  // namespace tuft::io
