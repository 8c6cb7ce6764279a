// The generic things for programs: what a page offers to draw with.
#include <nlohmann/json.hpp>

#include "geometry/casefile/generic.hpp"

namespace tuft::casefile {

std::string generic_things_json() {
  nlohmann::ordered_json lists = nlohmann::ordered_json::object();
  for (const GenericThing& thing : generic_things()) {
    nlohmann::ordered_json gives = nlohmann::ordered_json::object();
    for (const Entry& entry : thing.gives.entries) gives[entry.key] = entry.value.text;
    lists[thing.list].push_back(
        {{"name", thing.name}, {"says", thing.says}, {"why", thing.why}, {"gives", gives}});
  }
  return lists.dump(2) + "\n";
}

}  // namespace tuft::casefile
