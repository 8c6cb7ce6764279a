// What the readers of the sections share: the way from a place in the document to a checked value.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "geometry/casefile/boxes.hpp"
#include "geometry/casefile/case_file.hpp"
#include "geometry/casefile/document.hpp"
#include "geometry/casefile/keys.hpp"
#include "geometry/casefile/quantity.hpp"
#include "geometry/casefile/report.hpp"

namespace tuft::casefile {

/// The entry of a list that an index points to.
template <class List>
decltype(auto) at(List& list, int index) {
  return list[index];
}

/// A place in the document: its node, its path as people read it, and the pattern of its row in the key
/// table.
struct Item {
  const Node* node = nullptr;
  std::string path;
  std::string pattern;
  Spot key_spot;  ///< of the key that holds it; of the node itself in a list

  explicit operator bool() const { return node != nullptr; }
};

/// The names of one section: those of the file in its order, then words known without being written.
struct Names {
  const char* one = "";  ///< "a zone"
  std::vector<std::string> all;
  std::vector<Item> items;  ///< parallel to `all`; no node where nothing is written
  bool broken = false;      ///< the section can't be read: a name may be one of it or not

  int find(const std::string& name) const;  ///< index, or -1
  void know(const std::string& name);       ///< adds a name that is not written, unless it is
};

using Words = std::vector<std::string>;

/// Reads one file into one case. The readers of the sections are free functions below that take it.
class Reader {
 public:
  Reader(CaseFile& file_, Report& report_) : file(file_), report(report_) {}

  CaseFile& file;
  Report& report;
  std::map<std::string, Names> names;  ///< by section: zones, vents (leaks included), fins, fans, ...

  geometry::Case& content() { return file.content; }
  geometry::Device& device() { return file.content.device; }

  // --- structure ---
  /// True if the item is a map; checks that its keys are known, present when required, and meant for this
  /// kind.
  bool check_map(const Item& item, const std::string& kind = "");
  /// The child with this key, or an item without a node.
  static Item child(const Item& map, const std::string& key);
  /// The child with this key, or an empty map in its place.
  Item child_or_empty(const Item& map, const std::string& key) const;
  /// Children of a `named` map, or items of a list; an error if it is something else or has too many.
  std::vector<std::pair<std::string, Item>> entries(const Item& item);
  std::vector<Item> items(const Item& item);
  /// Reads what is written in a section of names into a list of the case, in the order of the file.
  template <class Thing, class Read>
  void read_named(const char* section, std::vector<Thing>& out, const Read& read) {
    const Names written = names[section];  // a copy: reading may make more names known
    for (std::size_t i = 0; i < written.all.size(); ++i) {
      if (!written.items[i]) continue;
      Thing thing;
      thing.name = written.all[i];
      read(*this, written.items[i], thing);
      out.push_back(std::move(thing));
    }
  }

  // --- values; a faulty one is reported and replaced by a harmless one ---
  // `is` says what the thing is, for defaults that depend on it.
  /// A quantity, or its default, which is listed as an assumption.
  geometry::Value value(const Item& map, const std::string& key, const Words& is = {});
  /// The same where nothing need be said; no value if there is no default either.
  std::optional<geometry::Value> value_if_any(const Item& map, const std::string& key, const Words& is);
  /// True unless the key is for other kinds of the thing.
  bool is_meant_for(const Item& map, const std::string& key, const Words& is) const;
  /// A quantity if it is there.
  std::optional<geometry::Value> given(const Item& map, const std::string& key);
  /// A list of exact quantities if it is there and sound.
  std::optional<std::vector<double>> numbers(const Item& map, const std::string& key);
  /// A point of three coordinates if it is there and sound.
  std::optional<geometry::Vec3> point(const Item& map, const std::string& key);
  /// The list of exact quantities at an item of a list, if it is sound.
  std::optional<std::vector<double>> numbers_at(const Item& item);
  /// The same with the spreads the key's row allows.
  std::optional<std::vector<geometry::Value>> values(const Item& map, const std::string& key);
  std::optional<std::vector<geometry::Value>> values_at(const Item& item);
  /// One quantity at an item, checked against the item's row.
  std::optional<geometry::Value> quantity(const Item& item);
  /// Which of the row's words stands there; empty when missing or faulty.
  std::string word(const Item& map, const std::string& key);
  std::string text(const Item& map, const std::string& key);
  bool truth(const Item& map, const std::string& key);
  /// Axis x, y, z or a direction of three numbers; zero when faulty.
  geometry::Vec3 axis(const Item& map, const std::string& key);

  // --- references ---
  /// Section and index a name stands for; index -1 when it is no such name (reported).
  struct Found {
    std::string section;
    int index = -1;
  };
  Found reference(const Item& item);
  /// The same for a name that stands in an item or is its key, and is one of these sections'; not reported
  /// where one of them can't be read.
  Found called(const std::string& name, const Item& item, const Words& sections);
  /// The place of what was found; no value where nothing was.
  static std::optional<geometry::Place> place_of(const Found& found);
  /// The place an item names; no value when there is no item, or no such name (reported).
  std::optional<geometry::Place> place(const Item& item);
  /// The names of a list, or of a single name; faulty ones are left out.
  std::vector<Found> references(const Item& map, const std::string& key);
  /// The same for names of vents and leaks: indices into Device::vents.
  std::vector<int> vent_references(const Item& map, const std::string& key);

  // --- inputs ---
  /// Makes a value with a spread an input of the case under its key path; bounds are those of its row.
  void add_input(const std::string& path, const Key& row, geometry::Value& value,
                 const std::vector<double>& steps = {});
  /// Paths of the quantities that were read and have no spread.
  const std::set<std::string>& exact() const { return exact_; }

  // --- assumptions; those about laws of the model stand in a list of their own ---
  void assume(const std::string& path, const std::string& value, const std::string& why);
  /// Lists the row's default as used.
  void assume_default(const Item& map, const std::string& key, const Words& is = {});
  /// Lists the row's default with the value that was found by its rule.
  void assume_found(const Item& map, const std::string& key, const std::string& value);

  // Reported at the value, or at the key where `key_` says so; a conflict names a second place. An error
  // gives no value, for the reader of one to return.
  std::nullopt_t error(const Item& item, const std::string& message, const std::string& hint = "");
  void key_error(const Item& item, const std::string& message, const std::string& hint = "") {
    report.error(item.key_spot, item.path, message, hint);
  }
  void warning(const Item& item, const std::string& message, const std::string& hint = "") {
    report.warning(item.node->spot, item.path, message, hint);
  }
  void key_warning(const Item& item, const std::string& message, const std::string& hint = "") {
    report.warning(item.key_spot, item.path, message, hint);
  }
  void conflict(const Item& item, const std::string& message, const Item& other, const std::string& note) {
    report.conflict(item.node->spot, item.path, message, other.node->spot, note);
  }
  void key_conflict(const Item& item, const std::string& message, const Item& other,
                    const std::string& note) {
    report.conflict(item.key_spot, item.path, message, other.key_spot, note);
  }
  /// Checks a chosen name; reports what is wrong with it.
  void check_name(const std::string& name, const Item& item);

 private:
  /// Reports unknown keys; returns the known ones they were probably meant to be.
  std::vector<std::string> report_unknown(const Item& item, const std::vector<std::string>& known,
                                          const std::string& kind);
  void report_missing(const Item& item, const std::vector<std::string>& misspelt);
  bool in_range(const Item& item, const Key& row, const geometry::Value& value, const std::string& written);
  const Node* expect_text(const Item& item, const std::string& wanted);

  std::map<std::string, int> inputs_;  // number of each, by path
  std::set<std::string> exact_;
};

/// Words and names of generic things that may stand in place of a map.
std::vector<std::string> words_and_things(const Key& row);
/// The word that stands in place of a map; empty (and reported) if it is none of the row's.
std::string bare_word(Reader& reader, const Item& item);

/// "[10 mm, 20.5 mm, 3 mm]"
std::string write_point(const geometry::Vec3& point);

// The sections: what stands under a name, or a whole section where more than its names count.
void collect_names(Reader& reader, const Item& root);
void read_zones(Reader& reader, const Item& root);
void read_passage(Reader& reader, const Item& item, geometry::Passage& passage);
void read_vent(Reader& reader, const Item& item, geometry::Vent& vent);
void read_leaks(Reader& reader, const Item& root);
void read_stack(Reader& reader, const Item& item, geometry::FinStack& stack);
void read_fan(Reader& reader, const Item& item, geometry::Fan& fan);
void read_places(Reader& reader);
void read_source(Reader& reader, const Item& item, geometry::Source& source);
void read_part(Reader& reader, const Item& item, geometry::Part& part);
void read_fin_metal(Reader& reader);
/// Lets a little heat into the air inside where no way for it is written.
void add_ways_inside(Reader& reader);
void read_patch(Reader& reader, const Item& item, geometry::Skin& skin);
void read_spot(Reader& reader, const Item& item, geometry::Spot& spot);
void read_lid(Reader& reader, const Item& root);
void read_draught(Reader& reader, const Item& room, geometry::Draught& draught);
void read_tilt(Reader& reader, const Item& support, const std::string& kind, geometry::Tilt& tilt);
void read_pose(Reader& reader, const Item& item, geometry::Pose& pose);
void read_support(Reader& reader, const Item& item, geometry::Support& support);
void read_loads(Reader& reader, const Item& root);
void read_conditions(Reader& reader, const Item& root);
void read_sweep(Reader& reader, const Item& item, geometry::Sweep& sweep);
void read_claims(Reader& reader, const Item& root);
void read_photo(Reader& reader, const Item& item, geometry::Photo& photo);
void read_laws(Reader& reader, const Item& root);
void read_correlations(Reader& reader, const Item& root);
void read_joint_sample(Reader& reader, const Item& root);

/// What distances to edges may be written at a thing.
struct EdgeRules {
  std::string what;                                                   ///< "a vent on the left face"
  geometry::Vec3 extents = geometry::Vec3::Zero();                    ///< of the thing along x, y and z [m]
  std::array<bool, 3> axes = {{true, true, true}};                    ///< along which it has a place
  std::array<bool, 3> needed = {{true, true, true}};                  ///< along which it must be said
  std::vector<const char*> instead = std::vector<const char*>{"at"};  ///< keys that say the place otherwise
};
/// The centre that they say, where they do; faults are reported.
struct FromEdges {
  bool given = false;                                ///< at least one distance is written
  std::array<std::optional<double>, 3> centre = {};  ///< along x, y and z [m]
};
FromEdges read_from_edges(Reader& reader, const Item& item, const EdgeRules& rules);

/// The face named at an item's `face`; no value when faulty.
std::optional<geometry::Face> read_face(Reader& reader, const Item& item);
/// Puts the `size` written at an item, and its `centre` or distances to edges, in place of those of `where`
/// and checks that the rectangle lies on its face.
Rectangle read_rectangle(Reader& reader, const Item& item, Rectangle where);
/// The same for a thing on a face, a vent or a patch of skin.
template <class Thing>
void place_on_face(Reader& reader, const Item& item, Thing& thing) {
  const Rectangle where = read_rectangle(reader, item, rectangle_of(thing));
  thing.centre = where.centre;
  thing.width = where.width;
  thing.height = where.height;
}
/// The point at an item's `at`, or another, which is listed as an assumption.
geometry::Vec3 read_centre(Reader& reader, const Item& item, const geometry::Vec3& otherwise);
/// The same for a thing of these extents [m] that may also say its distances to edges; `is_placed` becomes
/// whether it says anything.
geometry::Vec3 read_centre(Reader& reader, const Item& item, const geometry::Vec3& otherwise,
                           const std::string& what, const geometry::Vec3& extents, bool& is_placed);
/// The zone behind a rectangle, for an item that does not say it; listed as an assumption if there is a
/// choice. Reports when it is undecided; `what` is the thing ("vent"), `choice` what may be written instead.
std::optional<int> zone_just_inside(Reader& reader, const Item& item, const Rectangle& where,
                                    const std::string& what, const std::string& choice);
/// True if the source of this index is written with `joins`, and so has a temperature.
bool has_temperature(const Reader& reader, int source);
/// Reads a condition written out (pose, support, load, lid), in `conditions` or in a claim's `when`; no value
/// when faulty. The name is left empty.
std::optional<geometry::Condition> read_condition(Reader& reader, const Item& item);
/// Index of a pose or support by name; the known words are added to the case when first used.
int pose_index(Reader& reader, const std::string& name);
int support_index(Reader& reader, const std::string& name);
/// A name for a condition that has none.
std::string condition_name(const Reader& reader, const geometry::Condition& condition);
/// Index of an equal condition (name aside), or -1.
int find_condition(const Reader& reader, const geometry::Condition& condition);

/// What only the whole can tell: connections, unused things, overlaps. Leaves out what earlier errors would
/// blur.
void check_whole(Reader& reader);
/// Its parts: sizes that don't fit, what the feet do in each condition.
void check_sizes(Reader& reader);
/// What may be said, but is hardly meant: warnings, quiet where `expected` names them.
void check_plausible(Reader& reader, const Item& root);
void tell_of_feet(Reader& reader);

}  // namespace tuft::casefile
