#include "tools/cli/first_screen.hpp"

namespace tuft::program {

// The conditions named here are those of a file that tuft new writes.
std::string first_screen() {
  return R"(Tuft predicts which openings of a small electronics chassis take air in, which
let it out, and which do next to nothing. It says why, and how sure that is.

Start a file. It asks the few things that matter and writes my-notebook.yaml:
    tuft new "My notebook"

Three jobs, one command each:
  Check a sentence about vents before you publish it
    tuft check my-notebook.yaml
  See what a surface, a lap, a stand or a closed lid does
    tuft compare my-notebook.yaml --from on-table --to on-bed
  Test a measurement at the bench: what would a strip of paper show there?
    tuft bench my-notebook.yaml --pose on-right-edge

Go on:
  tuft predict my-notebook.yaml   every condition of the file, and its results
  tuft reference vents            what can stand in a file, by section
  tuft check --help               more on a command; tuft --help lists them all
  README.md and docs/how-to       a tour, and the three jobs step by step

Mind hot parts, batteries and spinning fans in an opened device, and unplug it
before you open it. This is a prediction, no safety assessment.
)";
}

}  // namespace tuft::program
