// tuft draw: a page to draw a device on, from photos or on its plain faces, that answers as one draws.
#include <CLI/CLI.hpp>

#include "tools/cli/console.hpp"
#include "tools/cli/drawing_desk.hpp"
#include "tools/cli/options.hpp"
#include "tools/cli/stop_signals.hpp"
#include "tools/io/folder.hpp"
#include "tools/io/utf8.hpp"

namespace tuft::cli {
namespace {

struct DrawOptions {
  std::string path, out;
  int port = 0;
};

ExitStatus write_page(const DrawOptions& options, const std::string& engine) {
  const std::string page = page::drawing_page(drawn_case(options.path), engine);
  write_or_fail([&] { io::write_whole_file(options.out, page, page::kPageMark); });
  say("Page: " + io::printable(options.out) +
      "\nIt saves by handing the case file to the browser as a download.\n");
  return ExitStatus::good;
}

ExitStatus serve_page(const DrawOptions& options, const std::string& engine) {
  const StopSignals signals;  // before any thread is made, so that all leave them to this one
  try {
    page::PageServer server(static_cast<std::uint16_t>(options.port), "tuft draw");
    server.open(desk_for(options.path, engine));
    say("Open in a browser on this machine: " + server.desk_address() + "\nSaving writes " +
        io::printable(options.path) + "; Ctrl-C ends.\n");
    signals.wait();
    say("\nEnded.\n");
  } catch (const Failure&) {
    throw;
  } catch (const std::runtime_error& fault) {
    throw Failure(ExitStatus::output_not_written, fault.what());
  }
  return ExitStatus::good;
}

ExitStatus draw_device(const DrawOptions& options) {
  if (options.port < 0 || options.port > 65535)
    refuse("--port: " + std::to_string(options.port) + " is out of range: 0 to 65535");
  drawn_case(options.path);  // a file that can't be read is said before anything is opened
  const std::string engine = engine_for_drawing();
  return options.out.empty() ? serve_page(options, engine) : write_page(options, engine);
}

}  // namespace

void add_draw(CLI::App& app, ExitStatus& status) {
  auto [command, options] = add_command(
      app, status, draw_device, "draw",
      "Draws a device on a page, on photos of it or to scale; answers as you draw",
      "Examples:\n  tuft draw notebook.yaml\n  tuft draw notebook.yaml --out notebook-drawing.html\n\n"
      "Open the printed address in a browser on this machine. A file that is not there yet begins as a\n"
      "device without vents. Comments and order of the file stay; what the page can't draw stays as it is.\n"
      "Photos stay on this machine. With --out the page is one file that works without this program.\n"
      "Exit status: 0 ended or written, 3 bad input, 5 the page can't be shown or written.");
  command.add_option("CASE", options.path, "Case file; it need not be there yet")->required();
  add_value_option(command, "--out", options.out, "FILE", "Write the page to a file instead of serving it");
  command.add_option("--port", options.port, "Port of the page on 127.0.0.1; default: any free port")
      ->type_name("NUMBER");
}

}  // namespace tuft::cli
