// Random devices as a person might describe them, with the changes that must not change the answer.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <vector>

namespace tuft::test {

using Point = std::array<double, 3>;  ///< in the device's frame [mm]
using Pair = std::array<double, 2>;   ///< along the two axes of a face [mm]

/// Keys and values of a map, as text: {"kind", "soft"}.
using Entries = std::vector<std::pair<std::string, std::string>>;

struct RandomBox {
  std::string name;
  Point from{}, to{};
  Entries more;
};

/// A hole or duct in the wall that two zones share.
struct RandomPassage {
  std::string name, one, other;
  int across = 0;  ///< 0, 1, 2: x, y, z
  Point at{};
  Entries more;
};

/// A rectangle on a face: a vent or a patch of skin.
struct RandomPatch {
  std::string name, face;
  Pair centre{}, size{};
  double turned = 0.0;   ///< [deg]
  std::string behind;    ///< zone or fins; empty: a fan sits there
  bool has_loss = true;  ///< its law depends on its grille alone, so that half of it resists twice as much
  Entries more;
};

/// A fan or a stack of fins.
struct RandomThing {
  std::string name;
  Point at{};
  std::string from, to;  ///< fans: what they draw from and blow into; fins: `to` alone, a zone, may be empty
  Entries more;
};

/// A source or part with joins, a source that heats air, or one with a box of its own.
struct RandomHeat {
  std::string name;
  std::vector<std::pair<std::string, std::string>> joins, heats;  ///< names and values
  bool has_box = false;
  Point from{}, to{};
  Entries more;
};

struct RandomPose {
  std::string name;
  std::string word;  ///< a known pose; empty: tilt and axis
  double tilt = 0.0;
  Point axis{};
};

struct RandomSupport {
  std::string name;
  double tilt_x = 0.0, tilt_y = 0.0;  ///< [deg]
  std::vector<std::string> touches, over;
  bool says_touches = false;
  Entries more;
};

struct RandomLoad {
  std::string name;
  Entries power, fans;
};

struct RandomDevice {
  Point size{};
  bool has_lid = false;
  Entries lid, room;
  double draught = 0.0, draught_from = 0.0;  ///< [m/s], [deg]
  std::string feet;
  bool says_leaks = false;  ///< that there are none
  std::vector<RandomBox> zones;
  std::vector<RandomPassage> passages;
  std::vector<RandomPatch> vents, skins;
  std::vector<RandomThing> fans, fins;
  std::vector<RandomHeat> sources, parts;
  std::vector<RandomPose> poses;
  std::vector<RandomSupport> supports;
  std::vector<RandomLoad> loads;
  struct Condition {
    std::string name, pose, support, load;
    double lid = -1.0;  ///< [deg], negative: the device's own
  };
  std::vector<Condition> conditions;
};

/// One to four zones, two to nine vents on every kind of face, fans, fins, heat, skin, supports, poses. The
/// same on every machine.
RandomDevice random_device(std::uint64_t seed);

/// A number of mm, degrees and so on as a case file has it.
std::string number(double value);

/// The case file. With a key other than 0 all maps are in another order.
std::string case_text(const RandomDevice& device, std::uint64_t order = 0);

/// Its picture in a mirror that exchanges left and right, with its poses, tilts and draught.
RandomDevice mirrored(RandomDevice device);

/// An axis (0, 1, 2) along which no face has a vent, skin or lid, so that a second device fits beside it; -1:
/// none.
int free_axis(const RandomDevice& device);

/// The device beside itself along an axis, in one case file: names of the second have kSecond at their end.
/// For devices without leaks whose zones say their walls, held in still air.
RandomDevice doubled(const RandomDevice& device, int axis);
constexpr const char* kSecond = "-b";

/// The device with one vent cut in two halves along its first side; the second has kSecond at its end.
RandomDevice with_halves(RandomDevice device, std::size_t vent);

/// The device without heat, held in still air: only its fans move air.
RandomDevice in_free_air(RandomDevice device, bool cold);

/// The device as doubled() wants it: no leaks, walls as stated, in free air; without skin, since the film on
/// a patch is that of the whole face it is part of.
RandomDevice alone(RandomDevice device);

}  // namespace tuft::test
