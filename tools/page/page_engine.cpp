#include "tools/page/page_engine.hpp"

#include <fstream>
#include <iterator>

#include "tools/page/engine.hpp"

namespace tuft::page {
namespace fs = std::filesystem;

PageEngine find_page_engine(const fs::path& program) {
  PageEngine engine;
  engine.file = (program.parent_path() / "../share/tuft/page-engine.wasm").lexically_normal();
  std::ifstream stream(engine.file, std::ios::binary);
  if (program.empty() || !stream) {
    engine.fault = "is not there";
    return engine;
  }
  engine.bytes.assign(std::istreambuf_iterator<char>(stream), {});
  if (stream.bad() || engine.bytes.compare(0, 4, std::string("\0asm", 4)) != 0) {
    engine.fault = "can't be read as WebAssembly";
  } else if (engine.bytes.find(mark()) == std::string::npos) {
    engine.fault = "was made from other sources than this program";
  }
  if (!engine.fault.empty()) engine.bytes.clear();
  return engine;
}

std::string page_engine_advice() {
  return "install emscripten, then in the source tree: tools/run report CASE, or "
         "cmake --build build --target page_engine";
}

}  // namespace tuft::page
