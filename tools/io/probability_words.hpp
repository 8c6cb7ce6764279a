// Probabilities as they may be said: no surer than the samples behind them.
#pragma once

#include <string>

#include "solver/uncertainty/probability.hpp"

namespace tuft::output {

/// A probability in whole percent, from 1 to 99, rounded towards one half.
int whole_percent(double probability);

/// The same as text: "43 %". It is rounded towards one half, so that it never claims more than
/// was found and never stands on the other side of the line a verdict is drawn at. Never 0 or 100: "at least
/// 99 %", "at most 1 %".
std::string probability_text(double probability);

/// The same of what samples told. Where all or none of them say so, it is the inner end of the interval that
/// is known: "at least 99 %". Where nothing was in doubt, so that there was one device alone: "sure as
/// described", "never as described".
std::string probability_text(const doubt::Probability& probability);

/// The 99 % interval: "41 to 46 %", "at least 97 %", "at most 3 %".
std::string interval_text(const doubt::Interval& interval);

/// Both, for a cell of a table: "43 % (41 to 46 %)"; where they are the same they stand once.
std::string probability_with_interval(const doubt::Probability& probability);

}  // namespace tuft::output
