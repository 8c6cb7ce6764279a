// What the maps of a file of observations hold under their keys.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/casefile/document.hpp"
#include "geometry/casefile/quantity.hpp"

namespace tuft::casefile {

/// Reads values out of maps; `path` is that of the map, and what is wrong goes to the report.
class ObservationMaps {
 public:
  explicit ObservationMaps(Report& report) : report_(report) {}

  void check_keys(const Node& map, const std::string& path, const std::vector<std::string>& known);

  /// Empty if the key is not there, or holds no text (reported).
  std::string text(const Node& map, const std::string& path, const char* key);

  /// Index of the name a key holds, or -1 (reported); `one` says what it should be: "a vent".
  int name(const Node& map, const std::string& path, const char* key, const char* one,
           const std::vector<std::string>& known);

  /// A quantity without a spread [SI]; empty if the key is not there, or wrong (reported).
  std::optional<double> exact(const Node& map, const std::string& path, const char* key, Dimension dimension);

 protected:
  Report& report_;
};

}  // namespace tuft::casefile
