#include "geometry/casefile/starter_layout.hpp"

#include <algorithm>
#include <cmath>

#include "geometry/casefile/boxes.hpp"

namespace tuft::casefile {
namespace {

using geometry::Face;
using geometry::Vec3;

constexpr double kWall = 1e-3;        // between the outside and the spaces inside [m]
constexpr double kFinPitch = 1.3e-3;  // a gap of 1.1 mm and a fin of 0.2 mm [m]
constexpr double kHingeSlot = 7e-3;   // height of an outlet under the hinge [m]

bool is_outlet(const Starter& starter, Face face) { return starter.outlet && *starter.outlet == face; }

// To a tenth of a millimetre: what a ruler tells.
double rounded(double length) { return std::round(length * 1e4) * 1e-4; }

// The bay of the fan lies in the corner next to its outlet, on the left unless it blows to the right.
void add_zones(const Starter& starter, StarterLayout& layout) {
  const Vec3& size = starter.size;
  const double border = rounded(0.385 * size.x());
  const double half = rounded(0.5 * size.y());
  const bool in_front = is_outlet(starter, Face::front);
  layout.two_zones = true;
  layout.fan_bay = {{kWall, in_front ? kWall : half, kWall},
                    {border, in_front ? half : size.y() - kWall, size.z() - kWall}};
  layout.board = {{border, kWall, kWall}, {size.x() - kWall, size.y() - kWall, size.z() - kWall}};
  if (!is_outlet(starter, Face::right)) return;
  for (StarterBox* box : {&layout.fan_bay, &layout.board}) {
    const double from = box->from.x();
    box->from.x() = size.x() - box->to.x();
    box->to.x() = size.x() - from;
  }
}

// Openings beside the fan's bay lie over the board; those of the bay over its middle.
Vec3 middle_for(const Starter& starter, const StarterLayout& layout, Face face) {
  if (!layout.two_zones) return 0.5 * starter.size;
  const bool in_bay = face == Face::base || is_outlet(starter, face);
  Vec3 middle = (in_bay ? layout.fan_bay : layout.board).centre();
  if (face == Face::left || face == Face::right) middle.y() = layout.fan_bay.centre().y();
  return middle;
}

void place(const Starter& starter, const StarterLayout& layout, StarterVent& vent) {
  const Eigen::Vector2d sides = face_size(starter.size, vent.face);
  const Vec3 middle = middle_for(starter, layout, vent.face);
  const bool flat = vent.face == Face::base || vent.face == Face::top;
  const bool upright = vent.face == Face::left || vent.face == Face::right;
  const bool axial = starter.kind == StarterClass::mini_desktop && is_outlet(starter, vent.face);
  vent.first = rounded(upright ? middle.y() : middle.x());
  vent.second = rounded(flat ? middle.y() : 0.5 * starter.size.z());
  const double part = layout.two_zones ? 0.225 : 0.4;
  vent.width = rounded(part * sides.x());
  vent.height = rounded((flat ? part : 0.3) * sides.y());
  if (is_outlet(starter, vent.face)) vent.height = rounded(0.45 * sides.y());
  if (axial) vent.height = rounded(0.8 * sides.y());
  if (axial) vent.width = rounded(std::min(0.9 * sides.x(), std::max(vent.height, starter.fan_diameter)));
  if (vent.face == Face::hinge) vent.height = kHingeSlot;
}

std::string cover_of(const Starter& starter, Face face) {
  if (is_outlet(starter, face)) {
    return starter.kind == StarterClass::mini_desktop ? "{kind: mesh, open: 60 %, hole: 3 mm}" : "slots";
  }
  const bool boxy = starter.kind == StarterClass::fanless_box;
  if (boxy) return "{kind: slots, open: 50 % ± 5 %, hole: 3 mm, thickness: 2 mm}";
  if (face == Face::base) return "{kind: perforated, hole: 1.5 mm}";
  // Keys let a little air through all around them.
  if (face == Face::top && starter.kind == StarterClass::slim_notebook) {
    return "{kind: slots, open: 1.5 % */ 2, hole: 0.5 mm, thickness: 3 mm}";
  }
  return "slots";
}

std::string behind_of(const Starter& starter, const StarterLayout& layout, Face face) {
  const bool blower = starter.kind != StarterClass::mini_desktop;
  if (is_outlet(starter, face)) return blower ? "outlet-fins" : "";
  if (!layout.two_zones) return "";
  // The slots beside the outlet belong to the space that they open into.
  const bool on_bay_side = (face == Face::left && !is_outlet(starter, Face::right)) ||
                           (face == Face::right && is_outlet(starter, Face::right));
  return face == Face::base || on_bay_side ? "fan-bay" : "board";
}

StarterVent vent_on(const Starter& starter, const StarterLayout& layout, Face face) {
  StarterVent vent;
  vent.name = starter_vent_name(starter, face);
  vent.face = face;
  vent.cover = cover_of(starter, face);
  vent.behind = behind_of(starter, layout, face);
  place(starter, layout, vent);
  return vent;
}

}  // namespace

std::string starter_vent_name(const Starter& starter, Face face) {
  const std::string word = geometry::face_word(face);
  if (is_outlet(starter, face)) return word + "-outlet";
  if (face == Face::top && starter.kind == StarterClass::slim_notebook) return "keyboard";
  if (face == Face::base && starter.kind != StarterClass::fanless_box) return "base-grille";
  return word + "-slots";
}

StarterLayout lay_out_starter(const Starter& starter) {
  StarterLayout layout;
  if (starter.kind == StarterClass::slim_notebook) add_zones(starter, layout);
  for (const Face face : starter.vents) layout.vents.push_back(vent_on(starter, layout, face));
  if (!starter.outlet) return layout;
  const StarterVent outlet = vent_on(starter, layout, *starter.outlet);
  if (starter.kind != StarterClass::mini_desktop) {
    layout.channels = std::max(1, static_cast<int>(outlet.width / kFinPitch));
    layout.fin_height = std::max(0.5e-3, rounded(0.85 * outlet.height));
  }
  layout.vents.push_back(outlet);
  return layout;
}

}  // namespace tuft::casefile
