// A bench measurement, judged before it is made.
#pragma once

#include "solver/experiment/bench_report.hpp"
#include "solver/flow2d/section_result.hpp"

namespace tuft::bench {

/// What is asked.
struct Question {
  int bench = 0;   ///< the condition one would measure in
  int use = 0;     ///< the condition that is spoken of
  int claim = -1;  ///< the claim to be shown, if one is; its vents are asked for, else (or if it names none)
                   ///< all but leaks
  std::vector<geometry::Spot> spots;  ///< of the infrared thermometer; none: every patch of skin
  /// Of the bench condition, usable: what it cuts is read off it. nullptr: all air by the laws.
  const section::SectionResult* section = nullptr;
};

/// Which of the conditions a report rests on has no solution.
struct Unsolved {
  std::string condition, reason;
};

/// Everything the bench says of a case; `unsolved` is set, and nothing else, if the bench or the use
/// condition has no solution. Never throws for a well-read case. @pre indices within the case.
Report judge_bench(const geometry::Case& content, const Question& question,
                   std::optional<Unsolved>& unsolved);

}  // namespace tuft::bench
