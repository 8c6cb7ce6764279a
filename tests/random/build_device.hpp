// Builds a random device step by step; each step stands in a file of its own.
#pragma once

#include <string>
#include <vector>

#include "tests/random/dice.hpp"
#include "tests/random/random_device.hpp"

namespace tuft::test {

class DeviceBuilder {
 public:
  explicit DeviceBuilder(std::uint64_t seed) : dice(seed) {}

  void build_spaces();  ///< chassis, zones, passages, lid
  void build_vents();
  void build_fans();  ///< with the fins and vents they need
  void build_heat();  ///< sources, parts, skin
  void build_use();   ///< room, poses, supports, loads, conditions

  RandomDevice device;

 private:
  using Words = std::vector<std::string>;

  std::string one_of(const Words& words) {
    return words[static_cast<std::size_t>(dice.whole(0, static_cast<int>(words.size()) - 1))];
  }
  std::string one_zone();
  const RandomBox& zone_named(const std::string& name) const;
  std::string quantity(double low, double high, const std::string& unit) {
    return number(dice.scale(low, high)) + " " + unit;
  }
  std::string share(double low, double high) { return number(std::round(dice.real(low, high))) + " %"; }
  Point point_in(const RandomBox& box);

  void cut_largest();
  void join(const RandomBox& one, const RandomBox& other);
  bool place(RandomPatch& patch, const RandomBox& zone, const std::string& face);
  bool is_free(const RandomPatch& patch) const;
  std::string cover(bool& has_loss);
  bool add_vent(const std::string& behind, const RandomBox& zone);
  Entries fan_kind(double room);
  Entries curve();
  bool add_fins(const RandomBox& zone, bool to_zone);
  void add_fan();
  void add_skin();
  void add_part();
  void add_source();
  RandomSupport support(const std::string& kind);
  RandomPose pose();

  Dice dice;
};

/// The axes of a face: 0, 1, 2 for x, y, z.
void axes_of(const std::string& face, int& first, int& second);

}  // namespace tuft::test
