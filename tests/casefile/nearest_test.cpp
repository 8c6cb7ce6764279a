#include "geometry/casefile/nearest.hpp"

#include <catch2/catch.hpp>

using namespace tuft::casefile;

TEST_CASE("edits count: insertion, deletion, replacement, swap of neighbours") {
  CHECK(edit_distance("hole", "hole") == 0);
  CHECK(edit_distance("hole", "holes") == 1);
  CHECK(edit_distance("hole", "hle") == 1);
  CHECK(edit_distance("hole", "hule") == 1);
  CHECK(edit_distance("hole", "hloe") == 1);
  CHECK(edit_distance("center", "centre") == 1);
  CHECK(edit_distance("", "abc") == 3);
  CHECK(edit_distance("kitten", "sitting") == 3);  // the textbook example of Levenshtein's distance
  CHECK(edit_distance("ca", "abc") == 3);          // optimal string alignment: no edit inside a swapped pair
  CHECK(edit_distance("draws_from", "draws-from") == 0);
  CHECK(edit_distance("Room", "room") == 0);
}

TEST_CASE("only a near word is offered") {
  const std::vector<std::string> words = {"perforated", "mesh", "open", "slots"};
  CHECK(nearest_word("perforate", words) == "perforated");
  CHECK(nearest_word("prefroated", words) == "perforated");
  CHECK(nearest_word("slot", words) == "slots");
  CHECK(nearest_word("opne", words) == "open");
  CHECK(nearest_word("banana", words).empty());
  CHECK(nearest_word("", words).empty());
  CHECK(nearest_word("x", {"y"}).empty());
  CHECK(did_you_mean("mehs", words) == "did you mean 'mesh'?");
}

TEST_CASE("words of other people's are translated") {
  CHECK(hint_for("bottom", {"base", "top"}) == "write 'base'");
  CHECK(hint_for("bottom", {"left", "right"}).empty());
}

TEST_CASE("long lists are cut") {
  CHECK(listed({"a", "b"}) == "a, b");
  const std::string cut = listed(std::vector<std::string>(30, "x"));
  CHECK(cut.substr(cut.size() - 11) == " and 6 more");
}
