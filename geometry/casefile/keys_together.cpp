// Rows of the key table: which uncertain quantities hang together.
#include "geometry/casefile/keys.hpp"

namespace tuft::casefile {

std::vector<Key> together_keys() {
  return {
      list_key("together")
          .at_most(200)
          .doc("Uncertain quantities that vary together, such as two fans of one batch. What is not named "
               "here varies by itself."),
      map_key("together[]").doc("One set of quantities; every two of them have this correlation."),
      inputs_key("together[].inputs", 2)
          .must()
          .doc("Their paths, as the list of assumptions writes them: `fans.left.flow-factor`, "
               "`vents.grille.cover.open`. Each has a spread, written or assumed."),
      quantity_key("together[].correlation", Dimension::number)
          .must()
          .no_spread()
          .in("-0.999", "0.999")
          .doc("Above 0: large together; below 0: one large where the other is small; of their normal "
               "scores."),
  };
}

}  // namespace tuft::casefile
