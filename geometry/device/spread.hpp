// A value and its uncertainty, and what of a case is uncertain under one name.
#pragma once

#include <limits>
#include <string>
#include <vector>

namespace tuft::geometry {

/// How the interval [low, high] of a Value is to be read.
enum class SpreadKind {
  none,         ///< known exactly, low == high == nominal
  normal,       ///< low..high is the central 95 % interval of a normal distribution
  uniform,      ///< anywhere in low..high, equally likely
  log_uniform,  ///< the logarithm is uniform; low > 0
  triangular,   ///< low..high with the mode at nominal
  steps         ///< as likely between any two neighbours of Input::steps, from low to high; nominal is the
                ///< middle one
};

/// Where a value came from; the report lists what was assumed.
enum class Origin { given, assumed };

/// A physical value in SI units with its spread. `nominal` lies within [low, high].
struct Value {
  double nominal = 0.0;
  SpreadKind spread = SpreadKind::none;
  double low = 0.0;
  double high = 0.0;
  Origin origin = Origin::given;
  int input = -1;      ///< number of the uncertain input it stands for (Case::inputs); -1: none
  double scale = 1.0;  ///< the value is so many times the input, when that is sampled
  int times = -1;      ///< a second input it is proportional to (a share of a full speed); -1: none

  constexpr Value() = default;
  /// An exactly known value; implicit on purpose, so that devices can be written down in code.
  constexpr Value(double exact) : nominal(exact), low(exact), high(exact) {}  // NOLINT
  constexpr Value(double nominal_, SpreadKind spread_, double low_, double high_,
                  Origin origin_ = Origin::given)
      : nominal(nominal_), spread(spread_), low(low_), high(high_), origin(origin_) {}

  /// The nominal value [SI].
  constexpr double operator*() const { return nominal; }
};

/// Mean of the value's square over its spread [SI squared]: the square itself of an exactly known one; of
/// steps, from the outer two and the middle one.
double mean_square(const Value& value);

/// One uncertain input. Every Value that stands for the same physical thing carries its number.
struct Input {
  std::string key;  ///< path in the case file: "vents.base-grille.cover.open"
  Value prior;      ///< nominal value and spread as given or assumed [SI]
  double floor = -std::numeric_limits<double>::infinity();   ///< what is physical: least value [SI]
  double ceiling = std::numeric_limits<double>::infinity();  ///< and largest
  std::vector<double> steps = {};  ///< of SpreadKind::steps: rising, an odd number of them, at least five
};

/// Two inputs that are correlated: two fans of one batch.
struct Correlated {
  int first = 0, second = 0;  ///< numbers of inputs
  double correlation = 0.0;   ///< of their normal scores, -1 < correlation < 1
};

/// How many parts of equal probability a spread is divided into to tell a place in it.
constexpr int kPlaces = 1000;

/// Inputs whose values are known together only, as a list of equally likely devices (what was measured ties
/// many of them, weakly and not along straight lines).
struct JointSample {
  std::vector<int> inputs;               ///< numbers of inputs
  std::vector<std::vector<int>> places;  ///< [device][of `inputs`]: part of the spread, 0 .. kPlaces - 1
};

}  // namespace tuft::geometry
