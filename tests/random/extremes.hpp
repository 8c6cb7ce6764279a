// Every number of a case file put to extremes, one at a time.
#pragma once

#include <string>
#include <vector>

namespace tuft::test {

/// One number of a text replaced.
struct Replacement {
  std::string what;  ///< "line 52, 2200 -> 1e-300: speed: 1e-300 rpm"
  std::string text;
};

/// Places of all numbers of a text, comments left out, times all extremes.
class Extremes {
 public:
  explicit Extremes(const std::string& text);

  std::size_t count() const;
  Replacement at(std::size_t index) const;  ///< of count()

 private:
  struct Place {
    std::size_t at, length;
  };
  std::string text_;
  std::vector<Place> places_;
};

}  // namespace tuft::test
