// Section claims.
#include <fmt/core.h>

#include <algorithm>
#include <map>

#include "geometry/casefile/nearest.hpp"
#include "geometry/casefile/reader.hpp"

namespace tuft::casefile {
namespace {

using geometry::Claim;
using geometry::ClaimKind;
using geometry::Role;

constexpr const char* kStatements[] = {
    "role", "none", "draws-more-than", "gives-more-than", "share", "changes-role-against"};

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
    reader.error(item, "the claim states nothing; it needs one of " + listed(all));
  } else {
    reader.report.conflict(found[1].key_spot, found[1].path,
                           "a claim makes one statement, and it has made one", found[0].key_spot,
                           "the other statement");
  }
  return "";
}

void read_share(Reader& reader, const Item& item, Claim& claim) {
  const Item share = reader.child(item, "share");
  const auto range = reader.quantity(share);
  if (!range) return;
  if (range->spread != geometry::SpreadKind::uniform) {
    reader.error(share, fmt::format("{} is not a range", quoted(share.node->text)), "write 40..100 %");
    return;
  }
  claim.low = range->low;
  claim.high = range->high;
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

void read_statement(Reader& reader, const Item& item, Claim& claim) {
  const std::string key = statement_of(reader, item);
  const bool compares = key == "draws-more-than" || key == "gives-more-than";
  if (key.empty()) return;
  const Item any = reader.child(item, "any");
  const Item by = reader.child(item, "by");
  if (any && key != "role") reader.report.error(any.key_spot, any.path, "'any' goes with 'role' alone");
  if (by && !compares) {
    reader.report.error(by.key_spot, by.path, "'by' goes with draws-more-than or gives-more-than alone");
  }
  if (key == "role" || key == "none") {
    claim.kind = key == "role" ? ClaimKind::role : ClaimKind::none_has_role;
    claim.role = role_of(reader.word(item, key));
    claim.any = key == "role" && reader.truth(item, "any");
  } else if (compares) {
    claim.kind = key == "draws-more-than" ? ClaimKind::draws_more : ClaimKind::gives_more;
    read_comparison(reader, item, key, claim);
  } else if (key == "share") {
    claim.kind = ClaimKind::share;
    read_share(reader, item, claim);
  } else {
    claim.kind = ClaimKind::changes_role;
    claim.against = reader.reference(reader.child(item, key)).index;
  }
}

// --- when ----------------------------------------------------------------------------------------

// Index of the condition a claim names or writes out, or -1 (reported).
int read_when(Reader& reader, const Item& claim) {
  const Item item = reader.child(claim, "when");
  std::vector<geometry::Condition>& all = reader.content().conditions;
  if (!item) {
    if (reader.names["conditions"].broken || all.size() == 1) return 0;
    reader.error(claim,
                 "the key 'when' is missing (conditions: " + listed(reader.names["conditions"].all) + ")");
    return -1;
  }
  if (item.node->kind == Node::Kind::text) return reader.reference(item).index;
  auto condition = read_condition(reader, item);
  if (!condition) return -1;
  const int known = find_condition(reader, *condition);
  if (known >= 0) return known;
  condition->name = condition_name(reader, *condition);
  all.push_back(*condition);
  return static_cast<int>(all.size()) - 1;
}

Claim read_claim(Reader& reader, const Item& item) {
  Claim claim;
  reader.check_map(item);
  if (item.node->kind != Node::Kind::map) return claim;
  claim.id = reader.text(item, "id");
  if (const Item id = reader.child(item, "id"); id && id.node->kind == Node::Kind::text) {
    reader.check_name(claim.id, {id.node, id.path, id.pattern, id.node->spot});
  }
  claim.say = reader.text(item, "say");
  claim.vents = reader.vent_references(item, "vents");
  read_statement(reader, item, claim);
  claim.when = read_when(reader, item);
  const Item against = reader.child(item, "changes-role-against");
  if (against && claim.against >= 0 && claim.against == claim.when) {
    reader.error(against, "the claim compares a condition with itself");
  }
  return claim;
}

}  // namespace

void read_claims(Reader& reader, const Item& root) {
  std::map<std::string, Item> ids;
  for (const Item& item : reader.items(reader.child(root, "claims"))) {
    const Claim claim = read_claim(reader, item);
    const Item id = reader.child(item, "id");
    if (id && !claim.id.empty()) {
      const auto [it, is_new] = ids.insert({claim.id, id});
      if (!is_new) {
        reader.report.conflict(id.node->spot, id.path,
                               fmt::format("the id {} is used twice", quoted(claim.id)),
                               it->second.node->spot, "first used here");
      }
    }
    reader.content().claims.push_back(claim);
  }
}

}  // namespace tuft::casefile
