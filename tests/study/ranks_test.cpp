// A study shared by three processes gives the bytes of one.
#include <catch2/catch.hpp>

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

namespace {

std::string file_text(const std::filesystem::path& path) {
  std::ifstream stream(path, std::ios::binary);
  std::ostringstream out;
  out << stream.rdbuf();
  return out.str();
}

// Bytes of the study; `before` is put before the program.
std::string study(const std::string& before, const std::string& name, int processes) {
  const auto path = std::filesystem::path(TUFT_BINARY_DIR) / name;
  std::filesystem::remove(path);
  const std::string said = path.string() + ".said";
  const std::string command =
      "OMP_NUM_THREADS=1 " + before + " " TUFT_ON_RANKS " '" + path.string() + "' > '" + said + "'";
  INFO(command);
  REQUIRE(std::system(command.c_str()) == 0);
  CHECK(file_text(said) == std::to_string(processes) + "\n");
  return file_text(path);
}

}  // namespace

TEST_CASE("three processes give the bytes of one") {
  const std::string alone = study("", "ranks-alone.bin", 1);
  REQUIRE(alone.size() > 1000);
  const std::string launcher = TUFT_LAUNCHER " --allow-run-as-root --oversubscribe -n 3";
  CHECK(study(launcher, "ranks-three.bin", 3) == alone);
}
