// One sample: its values put into the case, its solution, and samples on their way between processes; inside
// the ensemble only.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/network/controls.hpp"
#include "solver/network/zone_parts.hpp"
#include "solver/study/result.hpp"
#include "solver/study/state_summary.hpp"

namespace tuft::study {

/// A case of one's own and the places in it that depend on its inputs. Setting them allocates nothing.
class PlacedCase {
 public:
  /// Throws std::invalid_argument if a value comes from an input that `content` has not.
  explicit PlacedCase(const geometry::Case& content);
  PlacedCase(const PlacedCase&) = delete;
  PlacedCase& operator=(const PlacedCase&) = delete;

  /// Sets the inputs [SI], one for each of Case::inputs, everywhere they are used. Shares of a source's power
  /// are scaled to add to what they add to in the case as written.
  void put(const double* values);

  const geometry::Case& content() const { return content_; }

 private:
  void keep_power_whole();

  struct Place {
    geometry::Value* value;
    double scale;
    int input, times;
  };
  struct Shares {
    geometry::Source* source;
    double sum;
  };
  geometry::Case content_;
  std::vector<Place> places_;
  std::vector<Shares> shares_;  ///< of sources with an uncertain share
  std::vector<double> nominal_;
};

/// How a condition's samples are solved, found on the nominal case.
struct Prepared {
  int condition = 0;          ///< index into Case::conditions
  bool has_start = false;     ///< a nominal solution is there to start from
  bool starts_cold = false;   ///< every sample starts cold: the nominal case has other states beside the
                              ///< cold start's, warmth turns a flow of the fans, or `pilot` found a
                              ///< sample that would go elsewhere
  bool slides = false;        ///< what a cold solve of it ends in is not stable: every sample is searched
  network::State free_state;  ///< nominal, before any limit closed
  std::vector<network::Parts> parts;      ///< of its zones; boxes and places of openings are certain
  std::vector<std::pair<int, int>> ends;  ///< nodes each of its flows leads from and to
  study::StateSummary nominal;            ///< unsolved where it has no solution
  std::string reason;                     ///< why not
};

/// Solves the nominal case in a condition and looks for other states, unless `known` holds what a search of
/// the same condition found (States::looked_for).
Prepared prepare(const geometry::Case& content, int condition, const States* known = nullptr);

/// Solves a few samples both ways, from the nominal solution and from cold; where they differ every sample
/// has to start cold. `content` is the case with a pilot's values.
void pilot(const geometry::Case& content, Prepared& prepared);

/// Solves a sample; `content` is the case with the sample's values. Where the view is not solved `reason`
/// says why. `near`, if given, is where a sample with nearly the same values ended: Newton's method starts
/// there if it is not empty, and where it is empty the state that this sample ends in is put there, if it can
/// serve others. The start changes nothing but round-off.
study::StateSummary solve_sample(const geometry::Case& content, const Prepared& prepared, std::string& reason,
                                 network::State* near = nullptr);

}  // namespace tuft::study
