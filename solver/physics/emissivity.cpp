#include "solver/physics/emissivity.hpp"

#include <stdexcept>

namespace tuft::instruments {

const std::vector<Surface>& surfaces() {
  static const char* const manual = "emissivity appendices of infrared-camera manuals";
  static const std::vector<Surface> all = {
      {"bare-aluminium", {0.05, 0.03, 0.09}, Known::Confirmed, manual},
      {"oxidised-aluminium", {0.25, 0.20, 0.30}, Known::Confirmed, manual},
      {"blasted-cast-aluminium", {0.46, 0.40, 0.52}, Known::Confirmed, manual},
      {"anodised-aluminium", {0.95, 0.92, 0.98}, Known::Confirmed, manual},
      {"bare-steel", {0.25, 0.10, 0.40}, Known::FromMemory, "rolled or brushed sheet"},
      {"bare-copper", {0.05, 0.02, 0.10}, Known::FromMemory, "clean copper, heat pipes"},
      {"paint", {0.95, 0.92, 0.97}, Known::Confirmed, manual},
      {"plastic", {0.95, 0.93, 0.97}, Known::Confirmed, manual},
      {"paper", {0.95, 0.93, 0.97}, Known::Confirmed, manual},
      {"vinyl-tape", {0.96, 0.94, 0.98}, Known::Confirmed, manual},
      {"glass", {0.94, 0.90, 0.96}, Known::Confirmed, manual},
      {"circuit-board", {0.90, 0.80, 0.95}, Known::FromMemory, "solder mask; bare pads are metal"},
      {"skin", {0.98, 0.96, 0.99}, Known::FromMemory, "human skin"}};
  return all;
}

const Surface& surface(const std::string& name) {
  for (const Surface& one : surfaces()) {
    if (one.name == name) return one;
  }
  throw std::invalid_argument("surface = " + name + ": not known");
}

}  // namespace tuft::instruments
