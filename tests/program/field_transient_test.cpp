// tuft field --until as a person at a terminal meets it.
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>
#include <vtkCellData.h>
#include <vtkDataArray.h>
#include <vtkImageData.h>
#include <vtkNew.h>
#include <vtkXMLImageDataReader.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <regex>

#include "tests/io/sample.hpp"
#include "tests/program/program.hpp"

using namespace tuft::test;
using Catch::Matchers::Contains;
namespace fs = std::filesystem;

namespace {

/// Times and files of a collection.
std::vector<std::pair<double, std::string>> entries_of(const std::string& pvd) {
  std::vector<std::pair<double, std::string>> out;
  const std::regex entry("timestep=\"([^\"]*)\" part=\"[0-9]*\" file=\"([^\"]*)\"");
  for (auto it = std::sregex_iterator(pvd.begin(), pvd.end(), entry); it != std::sregex_iterator(); ++it)
    out.emplace_back(std::stod((*it)[1]), (*it)[2]);
  return out;
}

/// Warmest cell of a layer, read by VTK's own reader.
double warmest(const fs::path& file) {
  vtkNew<vtkXMLImageDataReader> reader;
  reader->SetFileName(file.c_str());
  reader->Update();
  vtkDataArray* values = reader->GetOutput()->GetCellData()->GetArray("temperature_K");
  REQUIRE(values != nullptr);
  REQUIRE(values->GetNumberOfTuples() > 0);
  double most = 0.0;
  for (vtkIdType k = 0; k < values->GetNumberOfTuples(); ++k) most = std::max(most, values->GetTuple1(k));
  return most;
}

/// Rows of a CSV file, without the header.
std::size_t rows_of(const std::string& csv) {
  return static_cast<std::size_t>(std::count(csv.begin(), csv.end(), '\n')) - 1;
}

}  // namespace

TEST_CASE("a course from cold: fields at their times, a row a step, a summary") {
  const Scratch scratch;
  const Outcome run = run_tuft({"field", case_path("chassis.yaml"), "--condition", "use", "--cells", "20mm",
                                "--until", "2s", "--every", "0.5", "--out", "warm"},
                               scratch.path());
  INFO(run.out << run.err);
  REQUIRE(run.status == 0);
  CHECK(run.err.empty());
  CHECK_THAT(run.out, Contains("from cold") && Contains("computed to its end, 2 s in ") &&
                          Contains("Results: warm ("));
  CHECK(scratch.entries() == 1);
  const fs::path folder = scratch.path() / "warm";
  const auto json = nlohmann::json::parse(bytes_of(folder / "results.json"));
  for (const auto& file : json["files"]) CHECK(fs::is_regular_file(folder / file.get<std::string>()));
  CHECK(json["partial"] == false);
  const auto& transient = json["transient"];
  CHECK(transient["followed_to_s"] == 2.0);
  CHECK(transient["balance"]["mass"].get<double>() <= 1e-10);
  CHECK(transient["balance"]["energy"].get<double>() <= 1e-7);
  CHECK(rows_of(bytes_of(folder / "transient.csv")) == transient["steps"].get<std::size_t>());

  const auto entries = entries_of(bytes_of(folder / "vtk/transient.pvd"));
  const std::size_t layers = transient["layers"].size();
  REQUIRE(entries.size() == 5 * layers);
  double before = 0.0;
  for (std::size_t k = 0; k < entries.size(); ++k) {
    CHECK(entries[k].first == Approx(0.5 * static_cast<double>(k / layers)));
    const double warm = warmest(folder / "vtk" / entries[k].second);
    if (k % layers != 0) continue;
    CHECK(warm >= before);  // it warms
    before = warm;
  }
  const double room = 21.0 + 273.15;
  CHECK(warmest(folder / "vtk" / entries.front().second) == Approx(room).margin(20.0));
  CHECK(before > warmest(folder / "vtk" / entries.front().second) + 0.01);
}

TEST_CASE("a course may start in another condition's steady state") {
  const Scratch scratch;
  const Outcome run = run_tuft({"field", case_path("chassis.yaml"), "--condition", "bench", "--from",
                                "steady:use", "--cells", "20mm", "--until", "1s", "--no-files"},
                               scratch.path());
  INFO(run.out << run.err);
  CHECK(run.status == 0);
  CHECK_THAT(run.out, Contains("from steady:use"));
  CHECK(scratch.entries() == 0);
}

TEST_CASE("what a course cannot take is bad input, said plainly") {
  const Scratch scratch;
  const auto refused = [&](std::vector<std::string> words, const std::string& message) {
    words.insert(words.begin(), {"field", case_path("chassis.yaml")});
    const Outcome run = run_tuft(words, scratch.path());
    INFO(run.err);
    CHECK(run.status == 3);
    CHECK_THAT(run.err, Contains(message));
    CHECK(scratch.entries() == 0);
  };
  refused({"--every", "2s"}, "--every: it belongs to --until");
  refused({"--from", "cold"}, "--from: it belongs to --until");
  refused({"--until", "0s"}, "--until: '0s' must lie after the start");
  refused({"--until", "3 mm"}, "--until: ");
  refused({"--until", "60s", "--section"}, "--until: a section is not followed in time");
  refused({"--until", "60s", "--every", "1ms"}, "more than 2000 moments");
  refused({"--until", "60s", "--from", "use"}, "--from: 'use' must be cold, or steady:");
  refused({"--until", "60s", "--from", "steady:usee"}, "did you mean 'use'?");
}

// In a process of its own, because the signal ends it.
TEST_CASE("an interrupt during a course leaves what there is, named as partial, and ends the program") {
  const Scratch scratch;
  const Scratch logs;
  const pid_t child = fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    const std::string program = std::string(TUFT_BINARY_DIR) + "/bin/tuft";
    const std::string file = case_path("chassis.yaml");
    const std::string log = (logs.path() / "err").string();
    if (chdir(scratch.path().c_str()) != 0 || freopen(log.c_str(), "w", stderr) == nullptr) _exit(120);
    signal(SIGINT, SIG_DFL);
    execl(program.c_str(), program.c_str(), "field", file.c_str(), "--cells", "8 mm", "--until", "90 h",
          "--every", "4 min", "--progress", "--quiet", nullptr);
    _exit(122);
  }
  // The second step shows that fields have been written.
  const fs::path log = logs.path() / "err";
  const auto going = [&] { return fs::exists(log) && bytes_of(log).find("step 2,") != std::string::npos; };
  for (int i = 0; i < 3000 && !going(); ++i) usleep(10000);
  REQUIRE(kill(child, SIGINT) == 0);
  int status = 0;
  REQUIRE(waitpid(child, &status, 0) == child);
  INFO(bytes_of(log));
  CHECK(WIFSIGNALED(status));
  CHECK(WTERMSIG(status) == SIGINT);
  CHECK_THAT(bytes_of(log), Contains("interrupted; partial results: ") && Contains("chassis-transient.partial"));
  REQUIRE(scratch.entries() == 1);
  const fs::path folder = scratch.path() / "chassis-transient.partial";
  const auto json = nlohmann::json::parse(bytes_of(folder / "results.json"));
  CHECK(json["partial"] == true);
  const double followed = json["transient"]["followed_to_s"].get<double>();
  CHECK(followed > 0.0);
  CHECK(followed < json["transient"]["until_s"].get<double>());
  for (const auto& file : json["files"]) CHECK(fs::is_regular_file(folder / file.get<std::string>()));
  CHECK(rows_of(bytes_of(folder / "transient.csv")) == json["transient"]["steps"].get<std::size_t>());
  const auto entries = entries_of(bytes_of(folder / "vtk/transient.pvd"));
  REQUIRE(entries.size() >= 2);
  CHECK(entries.back().first == Approx(followed));
  CHECK(warmest(folder / "vtk" / entries.back().second) > 0.0);
}
