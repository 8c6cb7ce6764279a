#include "geometry/condition.hpp"

namespace tuft::geometry {

const char* role_word(Role role) {
  switch (role) {
    case Role::intake:
      return "intake";
    case Role::exhaust:
      return "exhaust";
    case Role::both_ways:
      return "both-ways";
    case Role::idle:
      return "idle";
  }
  return "";
}

}  // namespace tuft::geometry
