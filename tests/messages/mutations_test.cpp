// Broken files in hundreds: whatever is in a file, the reader neither fails nor stays silent. A file is
// either a complete and consistent case, or has at least one error, placed inside the file.
#include "tests/messages/mutations.hpp"

#include <catch2/catch.hpp>

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <random>

#include "geometry/casefile/text.hpp"
#include "tests/casefile/helpers.hpp"

using namespace tuft::casefile;
using namespace tuft::geometry;
using tuft::casefile::test::full_case;
using tuft::casefile::test::heat_case;
using tuft::casefile::test::Mutation;
using tuft::casefile::test::mutations;
using tuft::casefile::test::read;

namespace {

bool sound(const Value& value) {
  return std::isfinite(*value) && value.low <= *value && *value <= value.high && std::isfinite(value.low) &&
         std::isfinite(value.high);
}

bool within(int index, std::size_t n) { return index >= 0 && index < static_cast<int>(n); }

bool place_exists(const Place& place, const Device& device) {
  switch (place.kind) {
    case PlaceKind::zone:
      return within(place.index, device.zones.size());
    case PlaceKind::fins:
      return within(place.index, device.fin_stacks.size());
    case PlaceKind::vent:
      return within(place.index, device.vents.size());
    case PlaceKind::part:
      return within(place.index, device.parts.size());
    case PlaceKind::skin:
      return within(place.index, device.skins.size());
    case PlaceKind::source:
      return within(place.index, device.sources.size());
    default:
      return within(place.index, device.fans.size());
  }
}

void check_joints(const std::vector<Joint>& joints, const Device& device) {
  for (const Joint& joint : joints) {
    REQUIRE(place_exists(joint.to, device));
    REQUIRE(joint.resistance.low > 0.0);
    REQUIRE(sound(joint.resistance));
  }
}

void check_follows(const Fan::SpeedControl& speed_control, const Device& device) {
  if (!speed_control.given) return;
  REQUIRE(place_exists(speed_control.sensor, device));
  const auto sensor = static_cast<std::size_t>(speed_control.sensor.index);
  if (speed_control.sensor.kind == PlaceKind::source) REQUIRE_FALSE(device.sources[sensor].joints.empty());
  REQUIRE(speed_control.temperature.size() >= 2);
  REQUIRE(speed_control.temperature.size() == speed_control.speed.size());
  for (std::size_t i = 1; i < speed_control.speed.size(); ++i) {
    REQUIRE(speed_control.temperature[i] > speed_control.temperature[i - 1]);
    REQUIRE(speed_control.speed[i] >= speed_control.speed[i - 1]);
  }
  REQUIRE(speed_control.hysteresis.low >= 0.0);
}

// Ways for heat, skin, fan tables and air that comes back.
void check_heat(const Device& device) {
  for (const Source& source : device.sources) {
    check_joints(source.joints, device);
    REQUIRE(source.capacity.low > 0.0);
    if (*source.limits.throttles_at > 0.0 && *source.limits.shuts_down_at > 0.0)
      REQUIRE(*source.limits.throttles_at < *source.limits.shuts_down_at);
  }
  for (const Part& part : device.parts) {
    check_joints(part.joints, device);
    REQUIRE(part.capacity.low > 0.0);
  }
  for (const FinStack& fins : device.fin_stacks) {
    REQUIRE(sound(fins.conductivity));
    REQUIRE(fins.fin_thickness.low > 0.0);
    REQUIRE(fins.capacity.low > 0.0);
  }
  for (const Skin& skin : device.skins) {
    REQUIRE(within(skin.zone, device.zones.size()));
    REQUIRE(skin.width * skin.height > 0.0);
    REQUIRE(sound(skin.emissivity));
    REQUIRE(skin.inner_film.low > 0.0);
    REQUIRE(skin.areal_capacity.low > 0.0);
    REQUIRE(skin.contact.low > 0.0);
  }
  for (const Fan& fan : device.fans) check_follows(fan.speed_control, device);
  for (const Vent& vent : device.vents) {
    double sum = 0.0;
    for (const Vent::Recirculates& back : vent.recirculates) {
      REQUIRE(within(back.vent, device.vents.size()));
      sum += back.share.high;
    }
    REQUIRE(sum <= 1.0 + 1e-6);
  }
}

void check_device(const Device& device) {
  REQUIRE(device.size.minCoeff() > 0.0);
  REQUIRE(sound(device.feet));
  REQUIRE_FALSE(device.zones.empty());
  for (const Zone& zone : device.zones) {
    REQUIRE(zone.size.minCoeff() > 0.0);
    REQUIRE(sound(zone.wall_conductance));
  }
  for (const Vent& vent : device.vents) {
    REQUIRE(vent.width > 0.0);
    REQUIRE(vent.height > 0.0);
    REQUIRE(vent.cover.open_ratio.low > 0.0);
    REQUIRE(sound(vent.cover.open_ratio));
    REQUIRE(sound(vent.blocked));
    REQUIRE(place_exists(vent.behind, device));
    if (vent.is_leak) REQUIRE(vent.leak_area.low > 0.0);
  }
  for (const Fan& fan : device.fans) {
    REQUIRE(fan.diameter.low > 0.0);
    REQUIRE(fan.speed.low > 0.0);
    REQUIRE(place_exists(fan.draws_from, device));
    REQUIRE(place_exists(fan.blows_into, device));
    for (std::size_t i = 1; i < fan.curve.size(); ++i) REQUIRE(fan.curve[i].flow > fan.curve[i - 1].flow);
  }
  for (const Passage& passage : device.passages) {
    REQUIRE(within(passage.zone_a, device.zones.size()));
    REQUIRE(within(passage.zone_b, device.zones.size()));
    REQUIRE(passage.zone_a != passage.zone_b);
  }
  check_heat(device);
  for (const Source& source : device.sources) {
    REQUIRE(source.shares.empty() != source.joints.empty());
    if (source.shares.empty()) continue;
    double sum = 0.0;
    for (const HeatShare& share : source.shares) {
      REQUIRE(place_exists(share.into, device));
      sum += *share.share;
    }
    REQUIRE(sum == Approx(1.0).margin(1e-6));
  }
}

// What "complete and consistent" promises to the program.
void check_case(const Case& content) {
  check_device(content.device);
  REQUIRE_FALSE(content.conditions.empty());
  for (const Condition& condition : content.conditions) {
    REQUIRE_FALSE(condition.name.empty());
    REQUIRE(within(condition.pose, content.poses.size()));
    REQUIRE(within(condition.support, content.supports.size()));
    REQUIRE(within(condition.load, content.loads.size()));
  }
  for (const Pose& pose : content.poses) {
    REQUIRE(pose.to_world.determinant() == Approx(1.0));
    REQUIRE_FALSE(pose.name.empty());
  }
  for (const Load& load : content.loads) {
    for (const SourcePower& power : load.powers) REQUIRE(within(power.source, content.device.sources.size()));
    for (const FanSetting& fan : load.fans) REQUIRE(within(fan.fan, content.device.fans.size()));
  }
  for (const Sweep& sweep : content.sweeps) {
    REQUIRE(within(sweep.condition, content.conditions.size()));
    REQUIRE((sweep.to - sweep.from) * sweep.step > 0.0);
  }
  for (const Claim& claim : content.claims) {
    REQUIRE(within(claim.when, content.conditions.size()));
    REQUIRE_FALSE(claim.vents.empty());
    for (const int vent : claim.vents) REQUIRE(within(vent, content.device.vents.size()));
    if (claim.kind == ClaimKind::changes_role) REQUIRE(within(claim.against, content.conditions.size()));
  }
}

// The error's place exists: in its line, or right behind its end.
void check_place(const Diagnostic& error, const std::vector<std::string_view>& lines) {
  REQUIRE(error.line >= 1);
  REQUIRE(error.line <= static_cast<int>(lines.size()));
  const std::string_view line = lines[static_cast<std::size_t>(error.line - 1)];
  REQUIRE(error.column >= 1);
  REQUIRE(error.column <= character_column(line, line.size()));
  REQUIRE_FALSE(error.message.empty());
}

// True if the text was read as a case.
bool check_text(const std::string& text) {
  const ReadResult result = read(text);
  if (result.errors.empty()) check_case(result.file.content);
  const std::string plain = normalised(text);
  const std::vector<std::string_view> lines = split_lines(plain);
  int last = 0;
  for (const Diagnostic& error : result.errors) {
    check_place(error, lines);
    REQUIRE(error.line >= last);
    last = error.line;
    REQUIRE(format(error, text).find('^') != std::string::npos);
  }
  for (const Diagnostic& warning : result.warnings) check_place(warning, lines);
  return result.errors.empty();
}

// Doubles the first letter of a key where it first stands in a good text.
void check_misspelt(const std::string& good, const std::string& key) {
  CAPTURE(key);
  std::size_t at = std::string::npos;
  for (const char* before : {" ", "{", "\n"}) {
    const std::size_t found = good.find(before + key + ":");
    if (found != std::string::npos) at = std::min(at, found + 1);
  }
  REQUIRE(at != std::string::npos);
  std::string bad = good;
  bad.insert(at, 1, bad[at]);
  const ReadResult result = read(bad);
  const auto line = 1 + std::count(bad.begin(), bad.begin() + static_cast<std::ptrdiff_t>(at), '\n');
  CHECK(std::any_of(result.errors.begin(), result.errors.end(),
                    [&](const Diagnostic& error) { return error.line == line; }));
}

}  // namespace

TEST_CASE("mutations of good files are read or refused, never worse") {
  int total = 0, refused = 0;
  const std::string sources[] = {full_case(), test::notebook_case("Notebook"), heat_case()};
  for (std::uint32_t s = 0; s < 3; ++s) {
    REQUIRE(check_text(sources[s]));
    for (const Mutation& mutation : mutations(sources[s], 25, 11 + s)) {
      INFO(mutation.what << "\n" << mutation.text);
      ++total;
      if (!check_text(mutation.text)) ++refused;
    }
  }
  CHECK(total == 1050);
  // Some changes do no harm (a comment misspelt, a default left out); most must be noticed.
  CHECK(refused > total * 6 / 10);
}

TEST_CASE("doubly broken files") {
  for (const Mutation& first : mutations(full_case(), 3, 5)) {
    if (first.text.size() < 20) continue;
    for (const std::size_t cut : {first.text.size() / 3, first.text.size() / 2, first.text.size() - 1}) {
      INFO(first.what);
      check_text(first.text.substr(0, cut));
    }
  }
}

TEST_CASE("a misspelt key is never taken for a default") {
  // Every key of the samples in turn: with a letter doubled it must be an error, found at that line.
  const std::vector<std::string> keys = {
      "feet",      "humidity",    "walls",   "across", "length", "bends",        "blocked", "open",
      "hole",      "thickness",   "behind",  "area",   "speed",  "at",           "density", "heats",
      "clearance", "hides-hinge", "gap",     "sink",   "covers", "permeability", "over",    "power",
      "fans",      "lid",         "support", "pose",   "from",   "to",           "step",    "idle-share",
      "margin",    "any",         "by",      "when",   "role",   "share"};
  for (const std::string& key : keys) check_misspelt(full_case(), key);
  const std::vector<std::string> heat_keys = {
      "recirculates", "speed-control", "sensor",        "speeds", "hysteresis",   "fin-thickness",
      "joins",        "conductivity",  "capacity",      "parts",  "throttles-at", "least-power",
      "skin",         "material",      "shuts-down-at", "behind", "emissivity",   "inside-film",
      "contact",      "edge-distance", "areal-capacity"};
  for (const std::string& key : heat_keys) check_misspelt(heat_case(), key);
}

TEST_CASE("random bytes and random YAML") {
  std::mt19937 random(3);
  const std::string pieces[] = {"tuft: 1\n", "device:", " {",   "}",  "[",    "]",     "\n  ",
                                "\n",        "- ",      "name", ": ", ", ",   "'",     "\"",
                                "|\n",       ">\n",     "#",    "&a", "*a",   "!!x ",  "? ",
                                "vents",     "3 mm",    "±",    "~",  "<<: ", "---\n", "...\n"};
  for (int i = 0; i < 400; ++i) {
    std::string bytes, yaml;
    for (int n = static_cast<int>(random() % 200); n > 0; --n) bytes += static_cast<char>(random() % 256);
    for (int n = static_cast<int>(random() % 60); n > 0; --n) yaml += pieces[random() % std::size(pieces)];
    INFO(yaml);
    CHECK_FALSE(check_text(bytes));
    CHECK_FALSE(check_text(yaml));
  }
}
