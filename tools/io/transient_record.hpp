// A transient of the plan layers as the writers take it: rows that grow while it is followed, and the
// folder that is written meanwhile.
#pragma once

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "solver/flow2d/layer_transient.hpp"
#include "tools/io/field_run.hpp"
#include "tools/io/folder.hpp"
#include "tools/io/grid.hpp"

namespace tuft::io {

/// One moment that was written as fields.
struct TransientMoment {
  double time = 0.0;               ///< [s]
  std::vector<std::string> files;  ///< one a layer
};

struct TransientRecord {
  FieldRun field;      ///< the case, the network's answer, cell; `plan` is the moment shown last
  std::string start;   ///< "cold", "steady:NAME"
  double until = 0.0;  ///< asked for [s]
  std::vector<std::string> thermal_masses;  ///< what each thermal mass belongs to
  std::vector<flow2d::TransientStep> rows;
  std::vector<TransientMoment> moments;
  flow2d::LayerTransient end;
  bool partial = false;  ///< broken off before its end
};

/// A vent's transient in a few numbers. Net flows count into the device [kg/s].
struct VentTransient {
  double last = 0.0, least = 0.0, greatest = 0.0;
  double settles = 0.0;  ///< from when on it stays within 2 % of the last through-flow of `last` [s]
};
VentTransient vent_transient(const TransientRecord& record, std::size_t vent);

/// transient.csv: a row a step, each number so that it reads back exactly.
std::string transient_csv(const TransientRecord& record);
/// results.json.
std::string transient_json(const TransientRecord& record, const Contents& contents);
/// Net flows of the vents and temperatures over time, as SVG.
std::string transient_chart(const TransientRecord& record);
/// What the terminal shows.
std::string transient_text(const TransientRecord& record, const Look& look);
/// What such a transient takes as steady all along, for a person.
std::string quasi_steady_words();

/// Writes while the transient is followed, so that memory does not grow with the moments. Files:
/// vtk/LAYER.NNNN.vti for every layer and moment, vtk/transient.pvd with their times, transient.csv,
/// figures/transient.svg, results.json. Nothing is in its place before publish(). Throws FolderError,
/// NotFinite.
class TimeSeries {
 public:
  /// The hidden folder is made at the first moment.
  TimeSeries(ResultsPlace place, TransientRecord* record) : place_(std::move(place)), record_(record) {}

  /// Fields at a time; record->field.plan is what is shown.
  void add_moment(double time);
  /// A signal asks to end.
  bool interrupted() const { return folder_ != nullptr && folder_->interrupted(); }
  /// What there is so far is all there will be: it goes to place.partial and says so. The signal takes effect
  /// when this object goes.
  void break_off();
  /// Writes the rest and moves the folder into its place. Returns where it is.
  std::filesystem::path publish();
  std::size_t n_files() const { return folder_->files().size(); }

 private:
  ResultsPlace place_;
  TransientRecord* record_;
  std::unique_ptr<ResultsFolder> folder_;
};

}  // namespace tuft::io
