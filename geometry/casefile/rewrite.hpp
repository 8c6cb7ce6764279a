// A case file with other values in it, everything else as it was.
#pragma once

#include <string>
#include <vector>

#include "geometry/casefile/case_file.hpp"

namespace tuft::casefile {

/// A value to be written at a key path ("vents.comb.cover.open", "supports.bed.sink", "fins.a.gap").
struct NewValue {
  std::string key;
  geometry::Value value;           ///< [SI]
  std::vector<double> steps = {};  ///< of geometry::SpreadKind::steps [SI]
};

/// Two inputs that are correlated, for the section `correlations`.
struct NewTie {
  std::string first, second;  ///< key paths
  double correlation = 0.0;   ///< of their normal scores
};

/// What the section `joint-sample` is to hold; nothing where there are no keys.
struct NewJointSample {
  std::vector<std::string> keys;
  std::vector<std::vector<int>> places;  ///< [device][key], 0 .. geometry::kPlaces - 1
};

struct Rewritten {
  std::string text;                   ///< of the new file
  std::vector<std::string> written;   ///< keys that stand in it now
  std::vector<std::string> left_out;  ///< keys for which no place was found
  std::vector<NewTie> tied, untied;   ///< pairs that stand in it now, and pairs it can't hold
};

/// Puts values in place of those the file has, in the units it uses; a value that was assumed is added to the
/// map it belongs to, if that is written. Comments, order and all else stay. `remark` is added on top as a
/// comment. A value after which the file would no longer be a sound case is left out.
/// A pair goes to `correlations`, in the order given; one that the file ties already stays as it is there.
Rewritten rewrite(const CaseFile& file, const std::vector<NewValue>& values, const std::string& remark,
                  const std::vector<NewTie>& ties = {});

/// The text of a case with another section `joint-sample`, at its end; unchanged where the case would no
/// longer be sound. Without keys the section is taken out.
std::string with_joint_sample(const std::string& text, const std::string& path, const NewJointSample& joint);

/// Units in which the file writes the values at these key paths, or in which they are assumed: what
/// `write_quantity` takes. Empty for a pure number, and for a key that is neither written nor assumed.
std::vector<std::string> units_of(const CaseFile& file, const std::vector<std::string>& keys);

}  // namespace tuft::casefile
