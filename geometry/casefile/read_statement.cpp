// What a claim states, and of what.
#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <limits>

#include "geometry/casefile/nearest.hpp"
#include "geometry/casefile/statement.hpp"

namespace tuft::casefile {
namespace {

using geometry::Claim;
using geometry::ClaimKind;
using geometry::PlaceKind;
using geometry::Role;

// A statement's key, the kind of claim it makes, and what else may be said with it.
struct Statement {
  const char* key;
  ClaimKind kind;
  const char* amount;  // key that says by how much, or nullptr
  bool any;            // `any` has a meaning
};
constexpr std::array<Statement, 15> kStatements = {{
    {"role", ClaimKind::role, nullptr, true},
    {"none", ClaimKind::none_has_role, nullptr, false},
    {"none-breathes", ClaimKind::none_breathes, nullptr, false},
    {"draws-more-than", ClaimKind::draws_more, "by", false},
    {"gives-more-than", ClaimKind::gives_more, "by", false},
    {"share", ClaimKind::share, nullptr, false},
    {"changes-role-against", ClaimKind::changes_role, nullptr, true},
    {"reverses-against", ClaimKind::reverses, nullptr, true},
    {"flow-falls-against", ClaimKind::flow_falls, "by-share", false},
    {"flow-rises-against", ClaimKind::flow_rises, "by-share", false},
    {"temperature", ClaimKind::temperature, nullptr, false},
    {"hotter-than", ClaimKind::temperature, nullptr, false},
    {"cooler-than", ClaimKind::temperature, nullptr, false},
    {"warms-against", ClaimKind::warms, "by-degrees", false},
    {"cools-against", ClaimKind::cools, "by-degrees", false},
}};

const Statement* statement_named(const std::string& key) {
  const auto found = std::find_if(kStatements.begin(), kStatements.end(),
                                  [&](const Statement& statement) { return key == statement.key; });
  return found == kStatements.end() ? nullptr : &*found;
}

bool states_change(ClaimKind kind) {
  return kind == ClaimKind::changes_role || kind == ClaimKind::reverses || kind == ClaimKind::flow_falls ||
         kind == ClaimKind::flow_rises || kind == ClaimKind::warms || kind == ClaimKind::cools;
}

Role role_of(const std::string& word) {
  for (const Role role : {Role::intake, Role::exhaust, Role::both_ways, Role::idle}) {
    if (word == geometry::role_word(role)) return role;
  }
  return Role::intake;
}

// The one statement of a claim; empty (and reported) when there is none or more than one.
std::string statement_of(Reader& reader, const Item& item) {
  std::vector<Item> found;
  std::vector<std::string> all;
  for (const Key* key : keys_below(item.pattern)) {
    if (key->statement) all.push_back(key->name());
  }
  std::string word;
  for (const std::string& key : all) {
    if (const Item child = reader.child(item, key)) {
      if (found.empty()) word = key;
      found.push_back(child);
    }
  }
  if (found.size() == 1) return word;
  if (found.empty()) {
    std::string list;  // all of them: the person has to choose
    for (const std::string& key : all) list += (list.empty() ? "" : ", ") + key;
    reader.error(item, "the claim states nothing; it needs one of " + list);
  } else {
    reader.report.conflict(found[1].key_spot, found[1].path,
                           "a claim makes one statement, and it has made one", found[0].key_spot,
                           "the other statement");
  }
  return "";
}

// --- what it is about ----------------------------------------------------------------------------

void read_side(Reader& reader, const Item& item, Claim& claim) {
  using geometry::Face;
  const std::string word = reader.word(item, "side");
  if (word.empty()) return;
  for (const Face face :
       {Face::base, Face::top, Face::left, Face::right, Face::front, Face::rear, Face::hinge}) {
    if (word == geometry::face_word(face)) claim.side = face;
  }
  const auto& vents = reader.device().vents;
  for (std::size_t v = 0; v < vents.size(); ++v) {
    if (vents[v].face == claim.side && !vents[v].is_leak) claim.vents.push_back(static_cast<int>(v));
  }
  if (claim.vents.empty() && !reader.report.has_errors_in({"vents"}))
    reader.error(reader.child(item, "side"), fmt::format("no vent lies in the face '{}'", word));
}

void read_body(Reader& reader, const Item& item, Claim& claim) {
  const Item of = reader.child(item, "of");
  const Reader::Found found = reader.reference(of);
  if (found.index < 0) return;
  const auto is = [&](const char* section) { return found.section == section; };
  claim.of = {is("sources") ? PlaceKind::source
              : is("parts") ? PlaceKind::part
              : is("skin")  ? PlaceKind::skin
                            : PlaceKind::fins,
              found.index};
  if (is("sources") && !has_temperature(reader, found.index)) {
    reader.error(of,
                 fmt::format("{} has no temperature: it gives its heat to the air in shares",
                             in_quotes(of.node->text)),
                 "write what it `joins`, or ask for `air-of` a zone");
  }
  if (is("fins") && !geometry::has_metal(reader.device(), found.index)) {
    reader.error(of, fmt::format("the metal of {} has no temperature: no joint leads to it",
                                 in_quotes(of.node->text)));
  }
}

void read_air(Reader& reader, const Item& item, Claim& claim) {
  const Reader::Found found = reader.reference(reader.child(item, "air-of"));
  if (found.index >= 0)
    claim.of = {found.section == "vents" ? PlaceKind::vent : PlaceKind::zone, found.index};
}

constexpr std::array<const char*, 4> kSubjects = {"vents", "side", "of", "air-of"};

// What the claim is about. `statement` nullptr: it is faulty, and what would suit it isn't known.
void read_subject(Reader& reader, const Item& item, const Statement* statement, Claim& claim) {
  std::vector<Item> found;
  bool about_heat = false;
  for (const std::string key : kSubjects) {
    const Item child = reader.child(item, key);
    if (!child) continue;
    found.push_back(child);
    about_heat = key == "of" || key == "air-of";
  }
  if (found.size() > 1) {
    reader.report.conflict(found[1].key_spot, found[1].path,
                           "a claim is about one thing: vents, side, of or air-of", found[0].key_spot,
                           "what it is about already");
    return;
  }
  if (reader.child(item, "vents")) claim.vents = reader.vent_references(item, "vents");
  if (reader.child(item, "side")) read_side(reader, item, claim);
  if (reader.child(item, "of")) read_body(reader, item, claim);
  if (reader.child(item, "air-of")) read_air(reader, item, claim);
  if (statement == nullptr) return;
  const bool heat = geometry::is_about_heat(statement->kind);
  const bool whole = statement->kind == ClaimKind::flow_falls || statement->kind == ClaimKind::flow_rises;
  const char* wanted = heat ? "of or air-of" : "vents or side";
  if (found.empty() && !whole) {
    reader.error(item, fmt::format("'{}' needs {}: what the sentence is about", statement->key, wanted));
  } else if (!found.empty() && heat != about_heat) {
    reader.report.error(found[0].key_spot, found[0].path,
                        fmt::format("'{}' is about {}", statement->key, heat ? "a temperature" : "vents"),
                        fmt::format("write {}", wanted));
  }
}

// --- how much ------------------------------------------------------------------------------------

void read_range(Reader& reader, const Item& item, const char* key, Claim& claim) {
  const Item range_item = reader.child(item, key);
  const auto range = reader.quantity(range_item);
  if (!range) return;
  if (range->spread != geometry::SpreadKind::uniform) {
    const bool share = claim.kind == ClaimKind::share;
    reader.error(range_item, fmt::format("{} is not a range", in_quotes(range_item.node->text)),
                 share ? "write 40..100 %" : "write 40..60 °C, or use hotter-than or cooler-than");
    return;
  }
  claim.low = range->low;
  claim.high = range->high;
}

void read_temperature(Reader& reader, const Item& item, const std::string& key, Claim& claim) {
  claim.low = 0.0;
  claim.high = std::numeric_limits<double>::infinity();
  if (key == "temperature") return read_range(reader, item, "temperature", claim);
  const auto limit = reader.given(item, key);
  if (limit) (key == "hotter-than" ? claim.low : claim.high) = **limit;
}

void read_comparison(Reader& reader, const Item& item, const std::string& key, Claim& claim) {
  claim.than = reader.vent_references(item, key);
  claim.factor = *reader.value(item, "by");
  const Item than = reader.child(item, key);
  for (const int vent : claim.than) {
    if (std::find(claim.vents.begin(), claim.vents.end(), vent) == claim.vents.end()) continue;
    reader.error(than, fmt::format("'{}' is compared with itself",
                                   reader.device().vents[static_cast<std::size_t>(vent)].name));
  }
}

// Keys that only some statements give a meaning.
void check_companions(Reader& reader, const Item& item, const Statement& statement) {
  const auto refuse = [&](const char* key, const std::string& with) {
    const Item child = reader.child(item, key);
    if (child)
      reader.report.error(child.key_spot, child.path, fmt::format("'{}' goes with {} alone", key, with));
  };
  const auto has = [&](const char* amount) {
    return statement.amount != nullptr && std::string(amount) == statement.amount;
  };
  if (!statement.any) refuse("any", "role, changes-role-against or reverses-against");
  if (!has("by")) refuse("by", "draws-more-than or gives-more-than");
  if (!has("by-share")) refuse("by-share", "flow-falls-against or flow-rises-against");
  if (!has("by-degrees")) refuse("by-degrees", "warms-against or cools-against");
}

void read_change(Reader& reader, const Item& item, const Statement& statement, Claim& claim) {
  claim.against = reader.reference(reader.child(item, statement.key)).index;
  if (statement.amount == nullptr) return;
  claim.by = *reader.value(item, statement.amount);
  if (claim.kind == ClaimKind::flow_falls && claim.by > 1.0)
    reader.error(reader.child(item, "by-share"), "a flow can't fall by more than 100 %");
}

void read_what(Reader& reader, const Item& item, const Statement& statement, Claim& claim) {
  claim.kind = statement.kind;
  claim.any = statement.any && reader.truth(item, "any");
  const std::string key = statement.key;
  if (key == "role" || key == "none") {
    claim.role = role_of(reader.word(item, key));
  } else if (key == "none-breathes") {
    claim.role = reader.word(item, key) == "in" ? Role::intake : Role::exhaust;
  } else if (key == "share") {
    read_range(reader, item, "share", claim);
  } else if (claim.kind == ClaimKind::temperature) {
    read_temperature(reader, item, key, claim);
  } else if (states_change(claim.kind)) {
    read_change(reader, item, statement, claim);
  } else {
    read_comparison(reader, item, key, claim);
  }
}

}  // namespace

std::string read_statement(Reader& reader, const Item& item, Claim& claim) {
  const std::string key = statement_of(reader, item);
  const Statement* statement = statement_named(key);
  read_subject(reader, item, statement, claim);
  if (statement == nullptr) return "";
  check_companions(reader, item, *statement);
  read_what(reader, item, *statement, claim);
  return key;
}

}  // namespace tuft::casefile
