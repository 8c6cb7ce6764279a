// The one table of everything that can stand in a case file. The reader checks against it and takes its
// defaults from it; the reference and the JSON Schema are written from it.
#pragma once

#include <initializer_list>
#include <string>
#include <utility>
#include <vector>

#include "geometry/casefile/units.hpp"

namespace tuft::casefile {

/// What a key holds.
enum class Type {
  map,         ///< fixed keys, rows "path.key"
  named,       ///< a map whose keys the person chooses, row "path.*"
  list,        ///< any number of items, row "path[]"
  quantity,    ///< a number with a unit and perhaps a spread
  quantities,  ///< a list of `count` quantities without spread
  word,        ///< one of `words`
  text,        ///< free text
  truth,       ///< true or false
  reference,   ///< the name of something in one of the sections `words`
  references,  ///< one such name, or a list of `count` (0: any number) of them
  inputs       ///< a list of at least `least` paths of uncertain quantities
};

/// A value taken when the file says nothing.
struct Default {
  std::string when;  ///< class it holds for ("perforated"), or empty: always
  std::string
      value;        ///< in the notation of the case file, with unit and spread; or how it is found, in words
  std::string why;  ///< one sentence: the class of things, the source or "judgement"
};

/// One row of the table.
struct Key {
  std::string path;  ///< "vents.*.cover.hole"; '*' stands for a chosen name, "[]" for a list item
  Type type = Type::map;
  Dimension dimension = Dimension::other;
  bool required = false;
  Dimension second = Dimension::other;  ///< quantities: of the second of two, where it is another
  bool exact = false;                   ///< quantity: no spread allowed
  bool may_be_empty = false;            ///< named, list: may hold nothing
  int count = 0;                        ///< quantities, references: how many; 0: any number
  int least = 0;                        ///< quantities: fewest, if fewer than `count` will do
  int most = 0;                         ///< named, list: at most so many; 0: no limit of its own
  std::string low, high;           ///< quantity: allowed range, with unit; a leading '>' leaves the end out
  std::vector<std::string> words;  ///< word: allowed; reference: sections
  std::vector<std::string> kinds;  ///< kinds of the thing that have this key; empty: all
  std::vector<std::string> or_words;     ///< words allowed instead of what `type` says
  std::vector<std::string> or_sections;  ///< names of these sections allowed instead
  std::vector<std::string> or_things;    ///< names of generic things (generic.hpp) allowed instead
  std::vector<std::string> or_keys;      ///< required: not where one of these keys stands beside it
  bool or_quantity = false;              ///< a quantity of `dimension` allowed instead of a word
  bool statement = false;                ///< of the keys so marked, a map holds exactly one
  bool question = false;  ///< quantity: a range that is asked for, no uncertainty about a thing
  int or_numbers = 0;     ///< a list of so many pure numbers allowed instead
  std::vector<Default> defaults;
  std::string says;    ///< documentation, one or two sentences
  std::string reason;  ///< quantity: why the range begins no lower, told with the error; or empty

  // Used only to write the table down.
  Key& because(std::string why) { return reason = std::move(why), *this; }
  Key& asked() { return question = true, *this; }
  Key& with_spread(bool may_have = true) { return exact = !may_have, *this; }
  Key& empty_ok() { return may_be_empty = true, *this; }
  Key& then(Dimension other) { return second = other, *this; }
  Key& in(Dimension of, std::string from, std::string to) {
    return dimension = of, low = std::move(from), high = std::move(to), *this;
  }
  Key& of(std::vector<std::string> list) { return words = std::move(list), *this; }
  Key& at_most(int n) { return most = n, *this; }
  Key& number_of(int n) { return count = n, *this; }
  Key& at_least(int n) { return least = n, *this; }
  Key& only(std::vector<std::string> of) { return kinds = std::move(of), *this; }
  Key& or_one_of(std::vector<std::string> list) { return or_words = std::move(list), *this; }
  Key& or_name_of(std::vector<std::string> list) { return or_sections = std::move(list), *this; }
  Key& or_a(Dimension of, std::string from, std::string to) {
    return or_quantity = true, in(of, std::move(from), std::move(to));
  }
  Key& or_generic(std::vector<std::string> list) { return or_things = std::move(list), *this; }
  Key& unless(std::vector<std::string> list) { return or_keys = std::move(list), *this; }
  Key& or_vector(int n) { return or_numbers = n, *this; }
  Key& fallback(std::string value, std::string why) { return fallback_of("", value, why); }
  Key& fallback_of(std::string when, std::string value, std::string why) {
    return defaults.push_back({std::move(when), std::move(value), std::move(why)}), *this;
  }

  /// The default for one of the classes a thing is of, or the one for all; nullptr if there is none.
  const Default* default_of(const std::vector<std::string>& is = {}) const;
  /// Last part of the path ("hole", "*", "[]").
  std::string name() const;
};

// Rows of each type; `says` is what the reference says of the key.
inline Key key_of_type(const std::string& path, Type type, const std::string& says) {
  Key key;
  key.path = path;
  key.type = type;
  key.says = says;
  return key;
}
inline Key map_key(const std::string& path, const std::string& says) {
  return key_of_type(path, Type::map, says);
}
inline Key named_key(const std::string& path, int most, const std::string& says) {
  return key_of_type(path, Type::named, says).at_most(most);
}
inline Key list_key(const std::string& path, int most, const std::string& says) {
  return key_of_type(path, Type::list, says).at_most(most);
}
inline Key quantity_key(const std::string& path, Dimension dimension, const std::string& low,
                        const std::string& high, const std::string& says) {
  return key_of_type(path, Type::quantity, says).in(dimension, low, high);
}
/// A share from 0 to 100 %.
inline Key share_key(const std::string& path, const std::string& says) {
  return key_of_type(path, Type::quantity, says).in(Dimension::share, "0 %", "100 %");
}
/// A quantity that can have no spread.
inline Key exact_key(const std::string& path, Dimension dimension, const std::string& low,
                     const std::string& high, const std::string& says) {
  return key_of_type(path, Type::quantity, says).in(dimension, low, high).with_spread(false);
}
inline Key quantities_key(const std::string& path, Dimension dimension, int count, const std::string& low,
                          const std::string& high, const std::string& says) {
  return key_of_type(path, Type::quantities, says)
      .in(dimension, low, high)
      .with_spread(false)
      .number_of(count);
}
/// Coordinates within a device.
inline Key point_key(const std::string& path, int count, const std::string& says) {
  return quantities_key(path, Dimension::length, count, "0 mm", "2 m", says);
}
inline Key word_key(const std::string& path, const std::vector<std::string>& words, const std::string& says) {
  return key_of_type(path, Type::word, says).of(words);
}
inline Key text_key(const std::string& path, const std::string& says) {
  return key_of_type(path, Type::text, says);
}
inline Key truth_key(const std::string& path, const std::string& says) {
  return key_of_type(path, Type::truth, says);
}
inline Key reference_key(const std::string& path, const std::vector<std::string>& sections,
                         const std::string& says) {
  return key_of_type(path, Type::reference, says).of(sections);
}
inline Key references_key(const std::string& path, const std::vector<std::string>& sections,
                          const std::string& says) {
  return key_of_type(path, Type::references, says).of(sections);
}
inline Key inputs_key(const std::string& path, int least, const std::string& says) {
  return key_of_type(path, Type::inputs, says).at_least(least);
}
/// The key, required.
inline Key must(Key key) {
  key.required = true;
  return key;
}
/// The key, required unless one of these others stands beside it.
inline Key must_unless(std::vector<std::string> others, Key key) {
  key.required = true;
  return key.unless(std::move(others));
}
/// The key, as one of those of which a map holds exactly one.
inline Key statement(Key key) {
  key.statement = true;
  return key;
}

/// A row, or several.
struct Rows {
  std::vector<Key> keys;
  Rows(Key key) : keys{std::move(key)} {}                       // NOLINT: so that tables hold both
  Rows(std::vector<Key> several) : keys(std::move(several)) {}  // NOLINT
};
/// Row of the key `like` of a thing: the name of a generic one, from a list of generic.hpp.
Key like_key(const std::string& of, const std::string& list);
/// Names of the six keys that say how far a thing lies from an edge of the chassis ("from-left").
const std::vector<std::string>& edge_words();
/// Their rows; `says` is what they measure to, and when they may stand there.
std::vector<Key> edge_keys(const std::string& of, const std::string& says);

/// All of them in one list.
std::vector<Key> joined(std::initializer_list<Rows> parts);

/// The whole table, in the order of the reference; parents stand before their children.
const std::vector<Key>& key_table();

/// Row of a path pattern, or nullptr.
const Key* find_key(const std::string& pattern);

/// Rows directly below a map's pattern, in table order.
std::vector<const Key*> keys_below(const std::string& pattern);

// The parts of the table, one file each.
std::vector<Key> device_keys();
std::vector<Key> inside_keys();
std::vector<Key> use_keys();
std::vector<Key> law_keys();
std::vector<Key> question_keys();
std::vector<Key> photo_keys();

}  // namespace tuft::casefile
