// tuft thermal: a thermal picture read at the patches of skin and spots of a case, beside the prediction, and
// written down for tuft learn.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cmath>
#include <filesystem>
#include <optional>
#include <sstream>

#include "geometry/casefile/nearest.hpp"
#include "geometry/casefile/quantity.hpp"
#include "geometry/photo/photo_map.hpp"
#include "geometry/photo/thermal.hpp"
#include "solver/experiment/expected_reading.hpp"
#include "solver/numerics/constants.hpp"
#include "solver/physics/thermometry.hpp"
#include "solver/study/predict.hpp"
#include "tools/cli/console.hpp"
#include "tools/cli/load.hpp"
#include "tools/cli/options.hpp"
#include "tools/cli/thermal_picture.hpp"
#include "tools/io/folder.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/words.hpp"

namespace tuft::cli {
namespace {

using casefile::Dimension;
using experiment::ExpectedReading;
using photo::Vec2;

struct ThermalCommand {
  CaseArgument given;
  std::string condition, out, emissivity = "95 %";
  ThermalSource source;
};

// Something to be read off the picture.
struct Target {
  const char* key = "infrared";  // under which a file of observations has it
  std::string name;
  geometry::Spot spot;  // what it is to an infrared thermometer
  photo::Patch patch;
  bool round = false;
};

// What came of it: a reading, or why there is none.
struct Read {
  Target target;
  std::string refused;
  double shown = 0.0, lowest = 0.0, highest = 0.0;  // [K]
  double sigma = 0.0;                               // of the reading [K]
  double predicted = 0.0;                           // what the camera would show [K]
};

photo::Patch patch_of(const geometry::Skin& skin) {
  geometry::Vec3 first, second;
  geometry::face_axes(skin.face, first, second);
  photo::Patch patch;
  patch.centre = {skin.centre.dot(first), skin.centre.dot(second)};
  patch.width = skin.width;
  patch.height = skin.height;
  return patch;
}

// Spots on the patches of a face, and patches without a spot; `elsewhere` gets the names of other spots.
std::vector<Target> targets_on(const casefile::CaseFile& file, geometry::Face face,
                               std::vector<std::string>& elsewhere) {
  const auto& skins = file.content.device.skins;
  std::vector<Target> targets;
  std::vector<bool> has_spot(skins.size(), false);
  for (const geometry::Spot& spot : file.spots) {
    const bool here = spot.on.kind == geometry::PlaceKind::skin && io::at(skins, spot.on.index).face == face;
    if (!here) {
      elsewhere.push_back(io::printable(spot.name));
      continue;
    }
    has_spot[static_cast<std::size_t>(spot.on.index)] = true;
    Target target{"spot", spot.name, spot, patch_of(io::at(skins, spot.on.index)), true};
    target.patch.width = std::min(target.patch.width, spot.size);
    target.patch.height = std::min(target.patch.height, spot.size);
    targets.push_back(target);
  }
  for (std::size_t i = 0; i < skins.size(); ++i) {
    if (skins[i].face != face || has_spot[i]) continue;
    Target target{"infrared", skins[i].name, {}, patch_of(skins[i]), false};
    target.spot.on = {geometry::PlaceKind::skin, static_cast<int>(i)};
    target.spot.size = std::min(skins[i].width, skins[i].height);
    target.spot.distance = experiment::Probe{}.distance;
    targets.push_back(target);
  }
  return targets;
}

// What a camera told another emissivity would show if it were told that of the readings that learn expects:
// the same flux, read anew (I18).
double as_usual(double shown, double told, double room) {
  physics::InfraredSpot usual;
  usual.set_reflected = room;
  if (told == usual.set_emissivity) return shown;
  physics::SpotTarget as_told;
  as_told.temperature = shown;
  as_told.reflected = as_told.air = room;
  return physics::displayed_temperature(usual, physics::radiance_seen(usual.band, as_told, told));
}

// Why a reading says nothing of the surface; empty: it does.
std::string picture_fault(const photo::ThermalReading& reading) {
  constexpr double kLeastAcross = 3.0;  // pixels that a camera needs across what it measures: common practice
  constexpr double kMostUnknown = 0.25, kMostAtEnd = 0.1;  // judgement
  if (reading.across < kLeastAcross - 0.05)
    return fmt::format("only {} pixels across within its edges; a camera needs {:.0f} to measure it",
                       io::significant(reading.across, 2, 1), kLeastAcross);
  if (reading.unknown > kMostUnknown)
    return io::percent_text(reading.unknown) +
           " of it shows no temperature: words, a cross, or colours that the bar does not have";
  if (reading.at_end > kMostAtEnd)
    return io::percent_text(reading.at_end) +
           " of it has the colour of an end of the bar and may lie beyond it";
  return "";
}

// The edge of what is read takes in what lies beside it: a pixel at each side is left out.
photo::Patch without_edge(photo::Patch patch, const Vec2& pixel) {
  patch.width -= 2.0 * pixel.y();
  patch.height -= 2.0 * pixel.y();
  return patch;
}

Read read_target(const geometry::Case& content, const study::ConditionResult& result, const Target& target,
                 const PlacedPicture& picture, double emissivity) {
  Read out{target, "", 0.0, 0.0, 0.0, 0.0, 0.0};
  const ExpectedReading expected = experiment::spot_reading(content, result, target.spot);
  if (!expected.possible) {
    out.refused = expected.reason;
    return out;
  }
  const auto pixel = picture.map.pixel_size(target.patch.centre);
  const photo::Patch patch = pixel ? without_edge(target.patch, *pixel) : target.patch;
  if (pixel && !(patch.width > 0.0 && patch.height > 0.0)) {
    out.refused = "smaller than the pixels at its edges";
    return out;
  }
  const auto reading = photo::read_thermal(picture.thermal, picture.map, patch, target.round);
  out.refused = reading ? picture_fault(*reading) : "part of it lies outside the picture";
  if (!out.refused.empty()) return out;
  const double room = result.ambient_temperature;
  out.shown = as_usual(reading->mean, emissivity, room);
  out.lowest = as_usual(reading->lowest, emissivity, room);
  out.highest = as_usual(reading->highest, emissivity, room);
  out.sigma = std::hypot(expected.sigma, reading->sigma);
  out.predicted = expected.value;
  return out;
}

// --- what is said and written ----------------------------------------------------------------------

std::string readings_table(const std::vector<Read>& all, geometry::UnitSystem units, const io::Look& style) {
  const geometry::ShownUnit unit = geometry::temperature_unit(units);
  const auto number = [&](double kelvin) { return io::temperature_number(kelvin, units); };
  io::Table table{{io::words("place"), io::words("by"), io::numbers("shown", unit.name),
                   io::numbers("predicted", unit.name), io::numbers("apart", unit.name),
                   io::numbers("error", std::string("± ") + unit.name), io::numbers("least", unit.name),
                   io::numbers("most", unit.name)}};
  for (const Read& one : all) {
    if (!one.refused.empty()) continue;
    table.add({io::shortened(io::printable(one.target.name), 24), one.target.key, number(one.shown),
               number(one.predicted),
               io::signed_significant(unit.of_difference(one.shown - one.predicted), 3, 1),
               io::significant(unit.of_difference(numerics::kDeviations95 * one.sigma), 2, 1),
               number(one.lowest), number(one.highest)});
  }
  return table.empty() ? "" : io::lay_out(table.columns, 2, style);
}

void say_readings(const std::vector<Read>& all, const std::vector<std::string>& elsewhere,
                  geometry::UnitSystem units) {
  constexpr double kUneven = 10.0;  // [K] within one patch; judgement
  const io::Look style = look();
  say(readings_table(all, units, style));
  for (const Read& one : all) {
    const std::string name = io::printable(one.target.name);
    if (!one.refused.empty())
      say(io::fill("  ! ", name + ": not read: " + io::printable(one.refused) + ".", style));
    if (one.highest - one.lowest > kUneven)
      say(io::fill("  ! ",
                   name + ": uneven, " + io::temperature_number(one.lowest, units) + " to " +
                       io::temperature_text(one.highest, units) +
                       ". The case gives it one temperature; smaller patches would say more.",
                   style));
  }
  if (!elsewhere.empty())
    say(io::fill("  ", "Spots that are not on this face: " + io::listed(elsewhere) + ".", style));
  say(io::fill(
      "",
      std::string("Shown: as of a camera set to an emissivity of 95 % and the room's temperature. ") +
          physics::infrared_caution,
      style));
}

// A name as it may stand in a map in braces.
std::string quoted_yaml(const std::string& name) {
  const bool plain = std::all_of(name.begin(), name.end(), [](char c) {
    return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '-' || c == '_';
  });
  return plain ? name : "\"" + name + "\"";
}

constexpr const char* kMark = "# Read off a thermal picture by tuft thermal.";

std::string observations_text(const std::vector<Read>& all, const std::string& condition,
                              const std::string& picture) {
  std::string text =
      std::string(kMark) + " Picture: " + io::printable(picture) +
      "\n# The errors are standard deviations: of camera, emissivity and the reading of colours.\n"
      "tuft-observations: 1\nobservations:\n";
  for (const Read& one : all)
    if (one.refused.empty())
      text += fmt::format("  - {{in: {}, {}: {}, reads: {:.1f} °C, error: {:.2f} K}}\n",
                          quoted_yaml(condition), one.target.key, quoted_yaml(one.target.name),
                          one.shown - numerics::kZeroCelsius, one.sigma);
  return text;
}

double read_emissivity(const std::string& text) {
  const double emissivity = read_option("--emissivity", text, Dimension::share);
  if (!(emissivity >= 0.1 && emissivity <= 1.0)) refuse("--emissivity: out of range: 10 % to 100 %");
  return emissivity;
}

ExitStatus thermal(const ThermalCommand& options) {
  const casefile::CaseFile file = load_case(options.given);
  const geometry::Case& content = file.content;
  const int condition = chosen_condition(content, options.condition, "");
  const double emissivity = read_emissivity(options.emissivity);
  const PlacedPicture picture = placed_picture(content, options.source);
  std::vector<std::string> elsewhere;
  const std::vector<Target> targets = targets_on(file, picture.face, elsewhere);
  const std::string face = geometry::face_word(picture.face);
  if (targets.empty())
    refuse("the case has no patch of skin on the " + face + " face; describe one in `skin` to read it");
  const study::ConditionResult result = study::predict(content, condition);
  fail_unless_solved(result);
  std::vector<Read> all;
  for (const Target& target : targets)
    all.push_back(read_target(content, result, target, picture, emissivity));
  say_filled(io::printable(result.name) + ": " +
                 io::circumstances(content, io::at(content.conditions, condition)) + "; the " + face +
                 " face",
             "");
  say_readings(all, elsewhere, options.given.units);
  const bool any = std::any_of(all.begin(), all.end(), [](const Read& one) { return one.refused.empty(); });
  if (!any) throw Failure(ExitStatus::bad_input, "tuft: nothing could be read; no file was written\n");
  const std::filesystem::path place =
      options.out.empty() ? std::filesystem::path(options.given.path).stem().string() + "-thermal.yaml"
                          : options.out;
  write_or_fail([&] {
    io::write_whole_file(place, observations_text(all, result.name, options.source.picture), kMark);
  });
  say("\nWrote " + io::printable(place.string()) + "; learn from it:\n  tuft learn " +
      io::printable(options.given.path) + " " + io::printable(place.string()) + "\n" +
      io::fill("", io::kCautionLine, look()));
  return ExitStatus::good;
}

}  // namespace

void add_thermal(CLI::App& app, ExitStatus& status) {
  auto [command, options] = add_command(
      app, status, thermal, "thermal",
      "A thermal picture of a face, read at its skin and spots, beside the prediction; for tuft learn",
      "Examples:\n"
      "  tuft thermal notebook.yaml base.csv --face base --corners '8,6 151,6 151,112 8,112' --condition "
      "use\n"
      "  tuft thermal notebook.yaml base.png --face base --corners '31,20 604,22 600,447 33,441' \\\n"
      "    --bar '628,40=58 °C' --bar '628,440=22 °C' --condition use\n\n"
      "Places in the picture are pixels, x to the right and y down from its upper left corner. The corners "
      "are\n"
      "those of the face, beginning at its own [0, 0] and going first along its first axis: of base and top "
      "front\n"
      "left, front right, rear right, rear left, as the device lies before you; of left and right front "
      "bottom,\n"
      "rear bottom, rear top, front top; of front and rear left bottom, right bottom, right top, left top.\n"
      "A grid of numbers (CSV) has a pixel a number. Bare metal, glass, what is too small for the picture's\n"
      "pixels and colours beyond the bar are refused, with the reason.\n\n"
      "Exit status: 0 read, 3 bad input or nothing to read, 4 the condition has no solution, 5 not written.");
  add_case_argument(command, options.given);
  command.add_option("PICTURE", options.source.picture, "The picture, or a grid of numbers in a text (CSV)")
      ->required();
  add_value_option(command, "--face", options.source.face, "FACE", "The face that it shows");
  add_value_option(command, "--corners", options.source.corners, "PLACES",
                   "The face's four corners in the picture, 'X,Y X,Y X,Y X,Y'");
  add_value_option(command, "--photo", options.source.photo, "NAME",
                   "Instead of --face and --corners: the places of this entry of the case's `photos`");
  add_value_option(command, "--bar", options.source.bar, "MARK",
                   "A place on the colour bar and its temperature, 'X,Y=58 °C'; twice");
  add_value_option(command, "--unit", options.source.unit, "UNIT", "Of the numbers of a grid; default: °C");
  add_value_option(command, "--emissivity", options.emissivity, "SHARE",
                   "That the camera was set to; default: 95 %");
  add_condition_option(command, options.condition);
  add_value_option(command, "--out", options.out, "FILE",
                   "File of observations; default: named after the case with -thermal.yaml behind it");
}

}  // namespace tuft::cli
