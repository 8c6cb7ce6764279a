#include "tools/cli/doctor_build.hpp"

namespace tuft::program {

std::vector<Ingredient> ingredients() {
  return {{"Eigen", TUFT_EIGEN, "linear algebra"},
          {"SUNDIALS", TUFT_SUNDIALS, "courses in time (warmup)"},
          {"VTK", TUFT_VTK, "VTK files of predict"},
          {"librsvg", TUFT_RSVG, "PNG figures"},
          {"libpng", TUFT_PNG, "PNG figures of few colours"},
          {"GLib", TUFT_GLIB, "widths of characters, digests"},
          {"zlib", TUFT_ZLIB, "the engine within a page"},
          {"libmicrohttpd", TUFT_MICROHTTPD, "the page of watch"},
          {"yaml-cpp", TUFT_YAML, "case files"},
          {"nlohmann-json", TUFT_JSON, "results.json, the schema"},
          {"fmt", TUFT_FMT, "numbers as text"},
          {"CLI11", TUFT_CLI11, "the command line"}};
}

std::string mpi_standard() { return TUFT_MPI_STANDARD; }

std::string build_words() {
  std::string words =
      std::string(TUFT_BUILD_TYPE) + ", " + TUFT_COMPILER + ", C++" + std::to_string(__cplusplus / 100 % 100);
#ifndef NDEBUG
  words += ", assertions on: slow";
#endif
#ifdef __SANITIZE_ADDRESS__
  words += ", address sanitizer on: slow";
#endif
  return words;
}

}  // namespace tuft::program
