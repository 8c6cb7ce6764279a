// A file of observations: what somebody measured at a device that a case describes.
#pragma once

#include <string>
#include <vector>

#include "geometry/casefile/case_file.hpp"

namespace tuft::casefile {

/// What was looked at.
enum class Observed {
  strip,       ///< which way a strip leaned at a vent
  anemometer,  ///< air speed before a vent [m/s]
  fan,         ///< speed of a fan [rev/s]
  chip,        ///< temperature of a source or part, as the device tells it [K]
  skin,        ///< temperature of a patch of skin [K]
  air,         ///< temperature of the air before a vent [K]
  spot,        ///< what an infrared thermometer shows at a spot of the case [K]
  infrared,    ///< what an infrared camera shows of a patch of skin [K]
  ruler        ///< a length [m] or free area [-] that the case holds as a number uncertain
};

/// One line of the file, checked against the case.
struct ObservationLine {
  Observed what = Observed::strip;
  int condition = -1;  ///< index into Case::conditions; -1 for a ruler
  int index = 0;       ///< vent, fan, skin, CaseFile::spots; of a chip index of `place`; of a ruler number of
                       ///< Case::inputs
  geometry::Place place;   ///< of a chip: source or part
  double reading = 0.0;    ///< [SI]; of a strip -1 in, 0 still, 1 out
  double error = 0.0;      ///< standard deviation [SI]; 0: the instrument's own
  double distance = 0.02;  ///< before the vent [m]
  std::string tool;        ///< name of the strip or instrument; empty: the usual one
  bool hand_held = false;
  int line = 0;       ///< in the file
  std::string words;  ///< "strip at comb in bench: in"
};

/// Names of tools that may stand at `with`.
struct KnownTools {
  std::vector<std::string> strips, anemometers;
};

struct ObservationsResult {
  std::vector<ObservationLine> lines;
  std::vector<Diagnostic> errors;
  std::string text;  ///< the whole file
};

/// Reads observations of a case; all problems in one go. Never throws for anything a file can contain.
ObservationsResult read_observations(const std::string& path, const CaseFile& file, const KnownTools& tools);

/// The same from text already in memory; `path` is used in messages only.
ObservationsResult read_observations_text(const std::string& text, const std::string& path,
                                          const CaseFile& file, const KnownTools& tools);

/// The keys of such a file with one sentence each, for the help and the documentation.
struct ObservationKey {
  const char* key;
  const char* holds;
  const char* says;
};
const std::vector<ObservationKey>& observation_keys();

}  // namespace tuft::casefile
