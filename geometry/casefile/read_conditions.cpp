// Sections conditions and sweeps.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "geometry/casefile/nearest.hpp"
#include "geometry/casefile/reader.hpp"
#include "geometry/device/lists.hpp"

namespace tuft::casefile {

using geometry::Condition;

namespace {

constexpr int kMostConditions = 1000;
constexpr int kMostSweepPoints = 3600;

// A pose or support by the name at `key`, or the default word. Empty when faulty.
std::string name_or_default(Reader& reader, const Item& map, const std::string& key) {
  if (const Item item = reader.child(map, key))
    return reader.reference(item).index < 0 ? "" : item.node->text;
  const Default& fallback = *find_key(map.pattern + "." + key)->default_of();
  reader.assume(map.path + "." + key, fallback.value, fallback.why);
  return fallback.value;
}

int load_index(Reader& reader, const Item& map) {
  if (const Item item = reader.child(map, "load")) return reader.reference(item).index;
  const Names& loads = reader.names["loads"];
  if (loads.broken) return -1;
  if (loads.all.size() == 1) return 0;
  reader.error(map, "the key 'load' is missing (loads: " + listed(loads.all) + ")");
  return -1;
}

void read_lid_angle(Reader& reader, const Item& map, Condition& condition) {
  const Item item = reader.child(map, "lid");
  if (!item) return;
  const auto angle = reader.quantity(item);
  if (!reader.device().lid.present) {
    reader.error(item, "the device has no lid", "add a section `lid:`, or take this out");
  } else if (angle) {
    condition.lid_given = true;
    condition.lid_angle = *angle;
  }
}

void combine_all(Reader& reader) {
  geometry::Case& content = reader.content();
  if (content.poses.empty()) pose_index(reader, "flat");
  if (content.supports.empty()) support_index(reader, "table");
  const std::size_t n = content.poses.size() * content.supports.size() * content.loads.size();
  if (n > kMostConditions) {
    reader.report.error(
        {1, 1}, "conditions",
        fmt::format("the poses, supports and loads of the file make {} combinations, more than {}", n,
                    kMostConditions),
        "write the `conditions:` that matter");
    return;
  }
  for (std::size_t p = 0; p < content.poses.size(); ++p) {
    for (std::size_t s = 0; s < content.supports.size(); ++s) {
      for (std::size_t l = 0; l < content.loads.size(); ++l) {
        Condition condition;
        condition.pose = static_cast<int>(p);
        condition.support = static_cast<int>(s);
        condition.load = static_cast<int>(l);
        condition.name = condition_name(reader, condition);
        content.conditions.push_back(condition);
      }
    }
  }
  reader.assume_default({}, "conditions");
}

}  // namespace

std::string condition_name(const Reader& reader, const Condition& condition) {
  const geometry::Case& content = reader.file.content;
  std::string name = at(content.poses, condition.pose).name + "-" +
                     at(content.supports, condition.support).name + "-" +
                     at(content.loads, condition.load).name;
  if (condition.lid_given)
    name += fmt::format("-lid{:.6g}", *condition.lid_angle * 180.0 / 3.14159265358979323846);
  const auto taken = [&] {
    return std::any_of(content.conditions.begin(), content.conditions.end(),
                       [&](const Condition& other) { return other.name == name; });
  };
  while (taken()) name += "-b";
  return name;
}

int find_condition(const Reader& reader, const Condition& wanted) {
  return geometry::find_index(reader.file.content.conditions, [&](const Condition& c) {
    const geometry::Value& a = c.lid_angle;
    const geometry::Value& b = wanted.lid_angle;
    const bool same_lid = c.lid_given == wanted.lid_given && a.spread == b.spread && *a == *b &&
                          a.low == b.low && a.high == b.high;
    const bool same = c.pose == wanted.pose && c.support == wanted.support && c.load == wanted.load;
    return same && same_lid;
  });
}

std::optional<Condition> read_condition(Reader& reader, const Item& item) {
  if (!reader.check_map(item)) return std::nullopt;
  Condition condition;
  const std::string pose = name_or_default(reader, item, "pose");
  const std::string support = name_or_default(reader, item, "support");
  condition.load = load_index(reader, item);
  read_lid_angle(reader, item, condition);
  if (pose.empty() || support.empty() || condition.load < 0) return std::nullopt;
  condition.pose = pose_index(reader, pose);
  condition.support = support_index(reader, support);
  return condition;
}

void read_conditions(Reader& reader, const Item& root) {
  std::vector<Condition>& conditions = reader.content().conditions;
  if (reader.child(root, "conditions")) {
    // A faulty one keeps its place, so that the names after it still point to their own.
    reader.read_named("conditions", conditions, [](Reader& of, const Item& item, Condition& condition) {
      const std::string name = condition.name;
      condition = read_condition(of, item).value_or(Condition{});
      condition.name = name;
    });
    return;
  }
  const bool sound = !reader.report.has_errors_in({"poses", "supports", "loads"});
  if (sound) combine_all(reader);
  // Sweeps and claims may name these.
  Names& names = reader.names["conditions"];
  for (const Condition& condition : conditions) names.know(condition.name);
  names.broken = !sound;
}

// --- sweeps --------------------------------------------------------------------------------------

namespace {

void check_steps(Reader& reader, const Item& item, const geometry::Sweep& sweep) {
  const double span = sweep.to - sweep.from;
  const Item step_item = reader.child(item, "step");
  const Item at = step_item ? step_item : item;
  if (span == 0.0) {
    reader.error(item, "from and to are the same angle");
  } else if (sweep.step == 0.0) {
    reader.error(at, "the step is zero");
  } else if (span * sweep.step < 0.0) {
    reader.error(at,
                 span > 0.0 ? "the step is negative, but the angles rise"
                            : "the step is positive, but the angles fall",
                 "reverse the sign of the step");
  } else if (std::floor(span / sweep.step + 1e-9) + 1.0 > kMostSweepPoints) {
    reader.error(at,
                 fmt::format("{:.0f} angles; at most {} are allowed",
                             std::floor(span / sweep.step + 1e-9) + 1.0, kMostSweepPoints),
                 "take a larger step");
  }
}

}  // namespace

void read_sweep(Reader& reader, const Item& item, geometry::Sweep& sweep) {
  if (!reader.check_map(item)) return;
  const std::size_t errors_before = reader.report.error_count();
  if (const Item condition = reader.child(item, "condition"))
    sweep.condition = reader.reference(condition).index;
  const geometry::Vec3 axis = reader.axis(item, "about");
  if (axis.norm() > 0.5) sweep.axis = axis;
  sweep.from = *reader.value(item, "from");
  sweep.to = *reader.value(item, "to");
  sweep.step = *reader.value(item, "step");
  if (reader.report.error_count() == errors_before) check_steps(reader, item, sweep);
}

}  // namespace tuft::casefile
