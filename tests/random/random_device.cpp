#include "tests/random/random_device.hpp"

#include "tests/random/build_device.hpp"

namespace tuft::test {

RandomDevice random_device(std::uint64_t seed) {
  DeviceBuilder builder(seed);
  builder.build_spaces();
  builder.build_vents();
  builder.build_fans();
  builder.build_heat();
  builder.build_use();
  return builder.device;
}

}  // namespace tuft::test
