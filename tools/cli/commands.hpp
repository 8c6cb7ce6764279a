// The commands of the program, one file each. Each adds itself to the command line and, when it was asked
// for, runs and leaves its exit status. They throw Failure.
#pragma once

#include "tools/cli/exit_status.hpp"

namespace CLI {
class App;
}

namespace tuft::program {

void add_predict(CLI::App& app, ExitStatus& status);
void add_compare(CLI::App& app, ExitStatus& status);
void add_check(CLI::App& app, ExitStatus& status);
void add_completion(CLI::App& app, ExitStatus& status);
void add_doctor(CLI::App& app, ExitStatus& status);
void add_man(CLI::App& app, ExitStatus& status);
void add_watch(CLI::App& app, ExitStatus& status);
void add_explain(CLI::App& app, ExitStatus& status);
void add_field(CLI::App& app, ExitStatus& status);
void add_study(CLI::App& app, ExitStatus& status);
void add_learn(CLI::App& app, ExitStatus& status);
void add_lint(CLI::App& app, ExitStatus& status);
void add_new(CLI::App& app, ExitStatus& status);
void add_reference(CLI::App& app, ExitStatus& status);
void add_figure(CLI::App& app, ExitStatus& status);
void add_report(CLI::App& app, ExitStatus& status);
void add_warmup(CLI::App& app, ExitStatus& status);
void add_bench(CLI::App& app, ExitStatus& status);

}  // namespace tuft::program
