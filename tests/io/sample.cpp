#include "tests/io/sample.hpp"

#include <stdlib.h>

#include <catch2/catch.hpp>
#include <fstream>
#include <iterator>

namespace tuft::test {
namespace {

namespace fs = std::filesystem;
using geometry::Face;
using geometry::Role;
using geometry::Vec3;

geometry::Vent vent(const std::string& name, Face face, const Vec3& centre, double width, double height) {
  geometry::Vent result;
  result.name = name;
  result.face = face;
  result.centre = centre;
  result.width = width;
  result.height = height;
  return result;
}

geometry::Device device() {
  geometry::Device box;
  box.name = "Sample box (invented)";
  box.size = Vec3(0.3, 0.2, 0.02);
  box.zones.push_back({"inside", Vec3(0.15, 0.1, 0.01), box.size, 0.3});
  box.vents.push_back(vent("grille", Face::base, Vec3(0.1, 0.15, 0.0), 0.07, 0.05));
  box.vents.push_back(vent("slot", Face::rear, Vec3(0.2, 0.2, 0.01), 0.06, 0.006));
  box.vents.push_back(vent("side", Face::left, Vec3(0.0, 0.1, 0.01), 0.08, 0.004));
  box.vents.push_back(vent("seam", Face::front, Vec3(0.15, 0.0, 0.01), 0.3, 0.02));
  box.vents.back().is_leak = true;
  geometry::Skin lid;
  lid.name = "palm rest";
  lid.material = geometry::SkinMaterial::plastic;
  lid.contact = 28800.0;
  geometry::Skin bottom;
  bottom.name = "bottom";
  bottom.face = Face::base;
  bottom.material = geometry::SkinMaterial::metal;
  box.skins = {lid, bottom};
  return box;
}

study::VentResult result_of(int vent, Role role, double in, double out) {
  study::VentResult result;
  result.vent = vent;
  result.role = role;
  result.firm = role != Role::both_ways;
  result.inflow = in;
  result.outflow = out;
  result.share = std::max(in, out) / 1e-3;
  result.face_velocity = 0.5 * result.share;
  result.temperature_in = 294.15;
  result.temperature_out = 313.15;
  result.pressure = role == Role::intake ? -12.5 : 3.25;
  result.fan_head = result.pressure - 0.02;
  result.buoyancy_head = 0.02;
  result.span_head = 0.0004;
  result.has_neutral_level = role == Role::both_ways;
  result.neutral_level = result.has_neutral_level ? 0.4 : 0.0;
  return result;
}

study::ConditionResult condition(int index, const std::string& name) {
  study::ConditionResult result;
  result.condition = index;
  result.name = name;
  result.report = {true, "", 7, 1e-11};
  result.balance = {2e-12, 3e-10};
  result.through_flow = 1e-3;
  result.power = 35.0;
  result.ambient_density = 1.2;
  result.ambient_temperature = 294.15;
  result.vents = {result_of(0, Role::intake, 0.8e-3, 0.0), result_of(1, Role::exhaust, 0.0, 0.9e-3),
                  result_of(2, Role::both_ways, 0.15e-3, 0.05e-3), result_of(3, Role::idle, 0.01e-3, 0.0)};
  result.zones = {{"inside", -1.5, 310.0}};
  result.fans = {{"main", true, 75.0, 0.8e-3, 40.0, 300.0}};
  result.fins = {{"fins", 0.75e-3, 318.0}};
  result.sources = {{"chip", 40.0, 33.0, network::SourceState::throttled, true, 363.15, 363.15, 373.15},
                    {"drive", 2.0, 2.0}};
  result.parts = {{"pipe", 340.0}};
  result.skins = {{0, 322.15, false, 321.15, true, 1.2}, {1, 318.15, true, 324.15, true, 0.4}};
  result.lid_edges = {{1, 305.0, 301.0}};
  result.heat = {30.0, 5.0};
  return result;
}

}  // namespace

io::Run sample_run() {
  io::Run run;
  run.content.device = device();
  run.content.poses = {geometry::named_pose("flat"), geometry::named_pose("on-left-edge")};
  geometry::Support table;
  table.name = "table";
  table.kind = geometry::SupportKind::hard;
  run.content.supports = {table, geometry::Support{}};
  geometry::Load stress;
  stress.name = "stress";
  run.content.loads = {stress};
  run.content.conditions = {{"use", 0, 0, 0}, {"bench", 1, 1, 0}};
  run.content.sweeps = {{"around", 1, Vec3::UnitY(), 0.0, 1.0, 0.5}};
  geometry::Claim claim;
  claim.id = "grille-draws";
  claim.say = "The grille takes air in";
  claim.vents = {0};
  run.content.claims = {claim};
  run.assumptions = {{"vents.grille.cover.hole", "1.5 mm", "common practice, no source"}};
  run.case_file = "sample.yaml";
  run.case_sha256 = std::string(64, '0');
  run.version = "0.0.0";
  run.conditions = {condition(0, "use"), condition(1, "bench")};
  run.sweeps = {
      {"around", {{0.0, condition(1, "bench")}, {0.5, condition(1, "bench")}, {1.0, condition(1, "bench")}}}};
  run.claims = {{0, study::Verdict::holds, "It carries 80 % of the through-flow."}};
  return run;
}

std::string bytes_of(const fs::path& path) {
  INFO(path.string());
  std::ifstream stream(path, std::ios::binary);
  REQUIRE(stream.good());
  return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

Scratch::Scratch() {
  std::string pattern = (fs::temp_directory_path() / "tuft-test-XXXXXX").string();
  REQUIRE(mkdtemp(pattern.data()) != nullptr);
  path_ = pattern;
}

Scratch::~Scratch() {
  std::error_code ignored;
  fs::remove_all(path_, ignored);
}

std::size_t Scratch::entries() const {
  return static_cast<std::size_t>(std::distance(fs::directory_iterator(path_), fs::directory_iterator()));
}

}  // namespace tuft::test
