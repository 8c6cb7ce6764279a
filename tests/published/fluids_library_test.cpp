// Our laws against Debian's python3-fluids, asked at run time. Where it is not installed the comparison is
// skipped, and the test says so.
#include <sys/wait.h>

#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>
#include <map>
#include <sstream>
#include <string>

#include "solver/numerics/constants.hpp"
#include "solver/physics/air.hpp"
#include "solver/physics/cover.hpp"
#include "solver/physics/face_law.hpp"
#include "solver/physics/openings.hpp"

using namespace tuft;
using namespace tuft::physics;

namespace {

/// What fluids_reference.py prints; empty where it could not run.
using Reference = std::map<std::string, double>;

Reference ask() {
  Reference reference;
  const std::string command = "/usr/bin/python3 " TUFT_SOURCE_DIR "/tests/published/fluids_reference.py";
  FILE* pipe = popen(command.c_str(), "r");
  if (pipe == nullptr) return reference;
  std::string text;
  std::array<char, 4096> buffer{};
  while (const std::size_t got = std::fread(buffer.data(), 1, buffer.size(), pipe)) {
    text.append(buffer.data(), got);
  }
  const int status = pclose(pipe);
  std::istringstream lines(text);
  std::string name;
  double value = 0.0;
  while (lines >> name >> value) reference[name] = value;
  // 3: the script found no library; 127: the shell found no interpreter. Anything else is an error of ours.
  const int code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  if (code == 3 || code == 127) return {};
  REQUIRE(code == 0);
  return reference;
}

const Reference& reference() {
  static const Reference answer = ask();
  return answer;
}

/// True, with a warning, if there is nothing to compare with.
bool skipped() {
  if (!reference().empty()) return false;
  WARN("python3-fluids cannot be imported by /usr/bin/python3: comparison SKIPPED");
  return true;
}

double value(const std::string& name) {
  const auto found = reference().find(name);
  INFO(name);
  REQUIRE(found != reference().end());
  return found->second;
}

std::string numbered(const std::string& name, int number) { return name + "_" + std::to_string(number); }

}  // namespace

TEST_CASE("python3-fluids: perforated plates and grilles", "[program:26]") {
  if (skipped()) return;
  for (int percent = 10; percent <= 90; percent += 5) {
    CHECK(thin_plate_loss(percent / 100.0) == Approx(value(numbered("screen", percent))).epsilon(1e-9));
  }
  for (int percent = 10; percent < 100; percent += 10) {
    CHECK(thick_plate_loss(percent / 100.0) == Approx(value(numbered("grill", percent))).epsilon(1e-9));
  }
}

TEST_CASE("python3-fluids: round-wire screen, within the 5 % of our fit", "[program:8]") {
  if (skipped()) return;
  const double gap = 1e-3;
  const FaceLaw law = mesh_screen(0.45, gap);
  for (const int re : {20, 30, 40, 60, 80, 100, 200, 400}) {
    CHECK(2.0 * (law.inertial + law.viscous * gap / re) == Approx(value(numbered("wire", re))).epsilon(0.05));
  }
}

TEST_CASE("python3-fluids: standard atmosphere up to 10 km", "[program:55]") {
  if (skipped()) return;
  for (int altitude = 0; altitude <= 10000; altitude += 1000) {
    INFO("altitude " << altitude);
    const double t = physics::standard_temperature(altitude);
    const physics::AirState state{physics::standard_pressure(altitude), 0.0};
    CHECK(t == Approx(value(numbered("temperature", altitude))).epsilon(1e-5));
    CHECK(state.pressure == Approx(value(numbered("pressure", altitude))).epsilon(1e-5));
    CHECK(physics::density(state, t) == Approx(value(numbered("density", altitude))).epsilon(1e-5));
    CHECK(physics::viscosity(t) == Approx(value(numbered("viscosity", altitude))).epsilon(1e-5));
    CHECK(physics::conductivity(t) == Approx(value(numbered("conductivity", altitude))).epsilon(1e-4));
  }
}

TEST_CASE("python3-fluids: entries, exit, sudden widening and right-angle turns", "[program:14]") {
  if (skipped()) return;
  CHECK(flush_entry_loss == Approx(value("entrance_Swamee")).epsilon(0.03));
  CHECK(flush_entry_loss < value("entrance_Rennels"));
  CHECK(exit_loss == value("exit"));
  for (int percent = 10; percent < 100; percent += 10) {
    const double diameter_ratio = percent / 100.0;
    CHECK(widening_loss(diameter_ratio * diameter_ratio) ==
          Approx(value(numbered("widening", percent))).epsilon(1e-9));
  }
  // Four handbooks; ours lies between the lowest and the highest.
  CHECK(right_angle_loss > value("mitre_Crane"));
  CHECK(right_angle_loss < value("mitre_Blevins"));
}

TEST_CASE("python3-fluids: ISO 5167 orifice plates bracket our sharp hole", "[program:3]") {
  if (skipped()) return;
  const double d = 0.05;
  const double side = 0.5 * std::sqrt(tuft::numerics::kPi) * d;  // the square of the round hole's area
  const FaceLaw hole = sharp_rectangle({side, side}, 0.0);
  for (const int pipe : {14000, 34000, 69000}) {
    const double cd = std::sqrt(0.5 / (hole.inertial + hole.viscous * d / (2.0 * pipe)));
    CHECK(cd == Approx(value(numbered("orifice", pipe))).epsilon(0.012));
  }
}
