#include <algorithm>

#include "geometry/device/lists.hpp"
#include "solver/experiment/setup.hpp"

namespace tuft::experiment {
namespace {

using geometry::Case;
using geometry::Condition;

template <typename Named>
std::string unique(const std::vector<Named>& list, std::string name) {
  while (geometry::contains(geometry::names_of(list), name)) name += "-b";
  return name;
}

bool same_turn(const geometry::Pose& a, const geometry::Pose& b) {
  return (a.to_world - b.to_world).cwiseAbs().maxCoeff() < 1e-9;
}

int pose_like(const Case& content, const geometry::Pose& pose) {
  return geometry::find_index(content.poses,
                              [&](const geometry::Pose& each) { return same_turn(each, pose); });
}

int add_load(Case& content, const geometry::Load& load) {
  const auto same = [&](const geometry::Load& other) {
    if (!other.powers.empty() || other.fans.size() != load.fans.size()) return false;
    for (std::size_t f = 0; f < load.fans.size(); ++f) {
      const auto &a = other.fans[f], &b = load.fans[f];
      const bool turns = a.state == geometry::FanState::running;
      if (a.fan != b.fan || a.state != b.state || (turns && *a.speed != *b.speed)) return false;
    }
    return true;
  };
  if (const int known = geometry::find_index(content.loads, same); known >= 0) return known;
  geometry::Load added = load;
  added.name = unique(content.loads, load.name);
  content.loads.push_back(added);
  return static_cast<int>(content.loads.size()) - 1;
}

}  // namespace

int add_cold_full(Case& content) {
  geometry::Load load;
  load.name = "no load, fans at full speed";
  for (std::size_t f = 0; f < content.device.fans.size(); ++f)
    load.fans.push_back({static_cast<int>(f), geometry::FanState::running, *content.device.fans[f].speed});
  return add_load(content, load);
}

int add_cold_as(Case& content, const study::ConditionResult& result, const std::string& name) {
  geometry::Load load;
  load.name = name;
  for (std::size_t f = 0; f < content.device.fans.size(); ++f) {
    const study::FanResult& fan = result.fans.at(f);
    const bool turns = fan.running && fan.speed > 0.0;
    load.fans.push_back(
        {static_cast<int>(f), turns ? geometry::FanState::running : geometry::FanState::stopped, fan.speed});
  }
  return add_load(content, load);
}

int find_or_add_pose(Case& content, const std::string& name) {
  const int known =
      geometry::find_index(content.poses, [&](const geometry::Pose& each) { return each.name == name; });
  if (known >= 0) return known;
  geometry::Pose pose = geometry::named_pose(name);
  if (pose.name.empty()) return -1;
  pose.name = name;
  content.poses.push_back(pose);
  return static_cast<int>(content.poses.size()) - 1;
}

int add_air(Case& content) {
  const int known = geometry::find_index(content.supports, [](const geometry::Support& each) {
    return each.kind == geometry::SupportKind::air;
  });
  if (known >= 0) return known;
  content.supports.emplace_back();
  return static_cast<int>(content.supports.size()) - 1;
}

int add_condition(Case& content, const Condition& wanted) {
  const int known = geometry::find_index(content.conditions, [&](const Condition& other) {
    return other.pose == wanted.pose && other.support == wanted.support && other.load == wanted.load &&
           other.lid_given == wanted.lid_given && *other.lid_angle == *wanted.lid_angle;
  });
  if (known >= 0) return known;
  Condition added = wanted;
  added.name = unique(content.conditions, content.poses[wanted.pose].name + ", " +
                                              content.supports[wanted.support].name + ", " +
                                              content.loads[wanted.load].name);
  content.conditions.push_back(added);
  return static_cast<int>(content.conditions.size()) - 1;
}

std::vector<Candidate> add_candidates(Case& content, int bench, int use,
                                      const study::ConditionResult& use_result) {
  const Condition at_bench = content.conditions[bench];
  const Condition in_use = content.conditions[use];
  const int air = add_air(content);
  struct Held {
    int pose, support;
  };
  std::vector<Held> ways = {{in_use.pose, in_use.support}, {at_bench.pose, at_bench.support}};
  std::vector<int> poses = {in_use.pose, at_bench.pose};
  for (const std::string& word : geometry::pose_words()) {
    const int known = pose_like(content, geometry::named_pose(word));
    poses.push_back(known >= 0 ? known : find_or_add_pose(content, word));
  }
  for (const int pose : poses) ways.push_back({pose, air});
  struct Loaded {
    int load;
    bool cold;
  };
  const std::vector<Loaded> loads = {{add_cold_full(content), true},
                                     {add_cold_as(content, use_result, "no load, fans as in use"), true},
                                     {in_use.load, false},
                                     {at_bench.load, false}};
  std::vector<Candidate> all;
  for (const Held& way : ways) {
    for (const Loaded& loaded : loads) {
      Condition wanted = in_use;
      wanted.pose = way.pose;
      wanted.support = way.support;
      wanted.load = loaded.load;
      const int index = add_condition(content, wanted);
      const bool known =
          std::any_of(all.begin(), all.end(), [&](const Candidate& one) { return one.condition == index; });
      if (!known) all.push_back({index, loaded.cold});
    }
  }
  return all;
}

}  // namespace tuft::experiment
