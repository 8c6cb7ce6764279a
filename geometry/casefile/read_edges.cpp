// Where a thing is, said by its distances to the edges of the chassis.
#include <fmt/core.h>

#include "geometry/casefile/nearest.hpp"
#include "geometry/casefile/reader.hpp"

namespace tuft::casefile {
namespace {

// In the order of edge_words(): two an axis, the low end first.
constexpr const char* kEdgeAxes[] = {"x", "y", "z"};

// The rows "from-left or from-right" of the axes that count.
std::string words_along(const std::array<bool, 3>& axes) {
  std::vector<std::string> words;
  for (std::size_t i = 0; i < edge_words().size(); ++i)
    if (axes[i / 2]) words.push_back(edge_words()[i]);
  return listed(words);
}

std::string pair_along(std::size_t axis) {
  return edge_words()[2 * axis] + " or " + edge_words()[2 * axis + 1];
}

// Centre along an axis, from the one distance that is given there; no value if there is none, or it is faulty
// (reported).
std::optional<double> centre_along(Reader& reader, const Item& item, std::size_t axis, double extent) {
  const Item low = reader.child(item, edge_words()[2 * axis]);
  const Item high = reader.child(item, edge_words()[2 * axis + 1]);
  if (low && high) {
    reader.key_conflict(
        high,
        fmt::format("{} says already where it lies along {}, and the size how far it reaches; "
                    "take one of the two out",
                    edge_words()[2 * axis], kEdgeAxes[axis]),
        low, "the other distance is written here");
    return std::nullopt;
  }
  const Item& given = low ? low : high;
  const auto distance = given ? reader.quantity(given) : std::nullopt;
  if (!distance) return std::nullopt;
  const double near = **distance + 0.5 * extent;
  return low ? near : reader.device().size[static_cast<int>(axis)] - near;
}

// The place said otherwise too; told once, at the first distance.
void refuse_other_places(Reader& reader, const Item& item, const Item& given, const EdgeRules& rules) {
  for (const char* other : rules.instead)
    if (const Item found = reader.child(item, other))
      reader.key_conflict(given, fmt::format("`{}` says already where it is; take one of them out", other),
                          found, "the other place is written here");
}

}  // namespace

FromEdges read_from_edges(Reader& reader, const Item& item, const EdgeRules& rules) {
  FromEdges out;
  for (std::size_t i = 0; i < edge_words().size(); ++i) {
    const Item given = reader.child(item, edge_words()[i]);
    if (!given) continue;
    if (!out.given) refuse_other_places(reader, item, given, rules);
    out.given = true;
    if (!rules.axes[i / 2])
      reader.key_error(given, fmt::format("{} has no {}", rules.what, edge_words()[i]),
                       "write " + words_along(rules.axes));
  }
  if (!out.given) return out;
  for (std::size_t axis = 0; axis < 3; ++axis) {
    if (!rules.axes[axis]) continue;
    out.centre[axis] = centre_along(reader, item, axis, rules.extents[static_cast<int>(axis)]);
    const bool written =
        reader.child(item, edge_words()[2 * axis]) || reader.child(item, edge_words()[2 * axis + 1]);
    if (written || !rules.needed[axis]) continue;
    reader.key_error(item, fmt::format("nothing says where it lies along {}", kEdgeAxes[axis]),
                     "write " + pair_along(axis));
  }
  return out;
}

}  // namespace tuft::casefile
