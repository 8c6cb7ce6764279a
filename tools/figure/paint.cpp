#include "tools/figure/paint.hpp"

namespace tuft::figure {
namespace {

// In the order of the enumeration.
constexpr std::array<Pot, kPaints> kPots = {
    {{"none", "none", "none"},          {"paper", "#fdfdfb", "#14181c"},
     {"text", "#1b2228", "#eceff1"},    {"muted", "#525d66", "#a9b4bc"},
     {"axis", "#8a949c", "#76828b"},    {"grid", "#e4e7e9", "#2b3238"},
     {"chassis", "#39434b", "#c3ccd3"}, {"body", "#f3f4f2", "#1d2328"},
     {"zone", "#b3bbc1", "#505b63"},    {"part", "#7a868f", "#8d99a2"},
     {"skin", "#d9b77a", "#8a6d3a"},    {"solid", "#c9ced2", "#3a4249"},
     {"stream", "#1b2228", "#1b2228"},  {"stream-rim", "#fdfdfb", "#fdfdfb"},
     {"mark", "#3d4850", "#c9d1d7"},    {"intake", "#1f6fb8", "#4d93d8"},
     {"exhaust", "#b15a00", "#dd8434"}, {"both-ways", "#560070", "#e6b3fb"},
     {"idle", "#5d6a6c", "#949d9f"},    {"shut", "#14191c", "#e9f4f4"},
     {"s1", "#1f6fb8", "#5fa8ea"},      {"s2", "#b15a00", "#e8914a"},
     {"s3", "#1f7a4d", "#6fcf9b"},      {"s4", "#6a2a86", "#d5a8ea"},
     {"s5", "#806000", "#dcbb4e"},      {"s6", "#ad2a5c", "#f28fb4"},
     {"s7", "#446170", "#9dbccb"},      {"s8", "#1b2228", "#eceff1"}}};

}  // namespace

const Pot& pot(Paint paint) { return kPots[static_cast<std::size_t>(paint)]; }

Paint series_paint(std::size_t number) {
  return static_cast<Paint>(static_cast<std::size_t>(Paint::series_1) + number % kSeriesPaints);
}

}  // namespace tuft::figure
