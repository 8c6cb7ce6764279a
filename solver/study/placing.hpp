// A copy of a case whose inputs can be set again and again.
#pragma once

#include <vector>

#include "geometry/device/condition.hpp"

namespace tuft::ensemble {

/// A case of one's own and the places in it that hang on its inputs. Setting them allocates nothing.
class PlacedCase {
 public:
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

}  // namespace tuft::ensemble
