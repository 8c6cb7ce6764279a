// Section joint-sample: uncertain quantities that are known together only, as a list of devices.
#include <fmt/core.h>

#include <algorithm>
#include <charconv>
#include <memory>
#include <utility>

#include "geometry/casefile/input_paths.hpp"

namespace tuft::casefile {
namespace {

// The places of one device, as many as there are inputs; reported where they are not.
bool read_places(Reader& reader, const Item& item, std::size_t inputs, std::vector<int>& out) {
  if (item.node->kind != Node::Kind::text) {
    reader.error(item, fmt::format("expected {} whole numbers with blanks between them, found {}", inputs,
                                   describe(*item.node)));
    return false;
  }
  const std::string& text = item.node->text;
  const char *at = text.data(), *end = text.data() + text.size();
  while (at != end) {
    if (*at == ' ') {
      ++at;
      continue;
    }
    int place = 0;
    const auto [next, fault] = std::from_chars(at, end, place);
    const bool ends = next == end || *next == ' ';
    if (fault != std::errc() || !ends || place < 0 || place >= geometry::kPlaces) {
      const std::string word(at, std::find(at, end, ' '));
      reader.error(item,
                   fmt::format("{} is no whole number from 0 to {}", in_quotes(word), geometry::kPlaces - 1));
      return false;
    }
    out.push_back(place);
    at = next;
  }
  if (out.size() == inputs) return true;
  reader.error(item,
               fmt::format("expected {} numbers, one for each of `inputs`, found {}", inputs, out.size()));
  return false;
}

}  // namespace

void read_joint_sample(Reader& reader, const Item& root) {
  const Item section = reader.child(root, "joint-sample");
  if (!section || !reader.check_map(section)) return;
  auto joint = std::make_shared<geometry::JointSample>();
  for (const InputPaths::Placed& placed : InputPaths(reader).named(Reader::child(section, "inputs"), 1))
    joint->inputs.push_back(placed.input);
  const Item places = Reader::child(section, "places");
  if (!places || joint->inputs.empty() || reader.report.has_errors()) return;
  for (const Item& item : reader.items(places)) {
    joint->places.emplace_back();
    if (!read_places(reader, item, joint->inputs.size(), joint->places.back())) return;
  }
  if (joint->places.size() < 2) {
    reader.error(places, fmt::format("expected at least two devices, found {}", joint->places.size()));
    return;
  }
  reader.content().joint = std::move(joint);
}

}  // namespace tuft::casefile
