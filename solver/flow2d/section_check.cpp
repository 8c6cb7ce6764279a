#include "solver/flow2d/section_check.hpp"

#include <cmath>
#include <cstdio>
#include <stdexcept>
#include <string>

namespace tuft::section {
namespace {

void refuse(const std::string& what) { throw std::invalid_argument(what); }

void check_number(double value, double least, const char* name) {
  if (std::isfinite(value) && value >= least) return;
  char text[120];
  std::snprintf(text, sizeof text, "%s is %g; it must be finite and at least %g", name, value, least);
  refuse(text);
}

}  // namespace

void check_given(const geometry::Device& device, const SectionGiven& given) {
  if (!given.vents.empty() && given.vents.size() != device.vents.size())
    refuse("SectionGiven::vents has " + std::to_string(given.vents.size()) + " entries; the device has " +
           std::to_string(device.vents.size()) + " vents");
  if (!given.skins.empty() && given.skins.size() != device.skins.size())
    refuse("SectionGiven::skins has " + std::to_string(given.skins.size()) + " entries; the device has " +
           std::to_string(device.skins.size()) + " patches of skin");
  for (const VentGiven& v : given.vents) {
    check_number(v.inflow, 0.0, "a vent's inflow");
    check_number(v.outflow, 0.0, "a vent's outflow");
    check_number(v.temperature, 0.0, "the temperature of a vent's air");
    check_number(std::abs(v.pressure), 0.0, "the pressure behind a vent");
  }
  for (double t : given.skins) check_number(t, 0.0, "a skin's temperature");
  check_number(given.chassis, 0.0, "the chassis' temperature");
}

void check_options(const SectionOptions& o) {
  check_number(o.finest, 1e-5, "SectionOptions::finest");
  check_number(o.growth, 0.01, "SectionOptions::growth");
  check_number(o.margin, 10.0 * o.finest, "SectionOptions::margin");
  check_number(o.gap_cells, 2.0, "SectionOptions::gap_cells");
  check_number(o.march_steps, 0.0, "SectionOptions::march_steps");
  check_number(o.march_courant, 0.01, "SectionOptions::march_courant");
}

void check_plane(const geometry::Device& device, const Plane& plane) {
  if (plane.normal < 0 || plane.normal > 2) refuse("Plane::normal must be 0 (x), 1 (y) or 2 (z)");
  if (std::isfinite(plane.at) && plane.at >= 0.0 && plane.at <= device.size[plane.normal]) return;
  char text[120];
  std::snprintf(text, sizeof text, "a plane at %c = %g m misses the device, which reaches from 0 to %g m",
                "xyz"[plane.normal], plane.at, device.size[plane.normal]);
  refuse(text);
}

}  // namespace tuft::section
