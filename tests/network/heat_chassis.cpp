#include "tests/network/heat_chassis.hpp"

#include "tests/network/chassis.hpp"

namespace tuft::testing {

using namespace geometry;

namespace {

Source chip(const std::string& name, double to_pipe, double to_board) {
  Source source;
  source.name = name;
  source.joints = {{{PlaceKind::part, kPipe}, to_pipe}, {{PlaceKind::part, kBoard}, to_board}};
  source.capacity = 8.0;
  source.limits.throttles_at = 363.15;
  source.limits.least_power = 3.0;
  source.limits.shuts_down_at = 373.15;
  return source;
}

Skin skin(const std::string& name, Face face, const Vec3& centre) {
  Skin patch;
  patch.name = name;
  patch.face = face;
  patch.centre = centre;
  patch.width = 0.12;
  patch.height = 0.08;
  patch.zone = 1;
  return patch;
}

}  // namespace

Case heat_chassis() {
  Case content = test_chassis();
  Device& device = content.device;
  device.sources = {chip("processor", 0.25, 12.0), chip("graphics", 0.2, 15.0)};
  Part pipe;
  pipe.name = "pipe";
  pipe.joints = {{{PlaceKind::fins, 0}, 0.12}};
  pipe.capacity = 60.0;
  Part board;
  board.name = "board";
  board.joints = {{{PlaceKind::zone, 1}, 2.5}, {{PlaceKind::skin, kBaseSkin}, 9.0}};
  board.capacity = 90.0;
  device.parts = {pipe, board};
  device.skins = {skin("palm-rest", Face::top, {0.21, 0.06, 0.018}),
                  skin("base-skin", Face::base, {0.21, 0.15, 0.0})};
  for (Load& load : content.loads) {
    if (load.powers.empty()) continue;
    const double power = *load.powers[0].power;
    load.powers = {{kProcessor, 0.6 * power}, {kGraphics, 0.4 * power}};
  }
  return content;
}

HeatedNetwork heated_network(const Case& content, int condition) {
  const Condition& wanted = content.conditions[static_cast<std::size_t>(condition)];
  HeatedNetwork made;
  made.net = network::assemble(content, wanted);
  made.layout = network::add_heat_paths(content, wanted, made.net);
  return made;
}

}  // namespace tuft::testing
