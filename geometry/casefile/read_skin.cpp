// Section skin: patches of the surface that somebody can touch.
#include "geometry/casefile/reader.hpp"

namespace tuft::casefile {
namespace {

using geometry::Skin;
using geometry::SkinMaterial;

struct MaterialWord {
  const char* word;
  SkinMaterial material;
};
constexpr MaterialWord kMaterials[] = {{"metal", SkinMaterial::metal},
                                       {"glass", SkinMaterial::glass},
                                       {"plastic", SkinMaterial::plastic},
                                       {"wood", SkinMaterial::wood}};

SkinMaterial material_of(const std::string& word) {
  for (const MaterialWord& entry : kMaterials) {
    if (word == entry.word) return entry.material;
  }
  return SkinMaterial::plastic;
}

void place(Reader& reader, const Item& item, geometry::Face face, Skin& skin) {
  skin.face = face;
  const Rectangle where = read_rectangle(reader, item, rectangle_of(skin));
  skin.centre = where.centre;
  skin.width = where.width;
  skin.height = where.height;
}

void read_behind(Reader& reader, const Item& item, bool placed, Skin& skin) {
  if (const Item behind = reader.child(item, "behind")) {
    skin.zone = reader.reference(behind).index;
  } else if (placed) {
    skin.zone = zone_just_inside(reader, item, rectangle_of(skin), "patch", "a zone").value_or(0);
  }
}

Skin read_patch(Reader& reader, const Item& item) {
  Skin skin;
  reader.check_map(item);
  if (item.node->kind != Node::Kind::map) return skin;
  const auto face = read_face(reader, item);
  if (face) place(reader, item, *face, skin);
  read_behind(reader, item, face && skin.width > 0.0, skin);
  const std::string material = reader.word(item, "material");
  skin.material = material_of(material);
  const bool known = !material.empty();  // else the defaults of a class would be those of the wrong one
  if (known || reader.child(item, "emissivity")) skin.emissivity = reader.value(item, "emissivity", material);
  skin.inner_film = reader.value(item, "inside-film");
  if (known || reader.child(item, "areal-capacity"))
    skin.areal_capacity = reader.value(item, "areal-capacity", material);
  skin.contact = reader.value(item, "contact");
  return skin;
}

}  // namespace

void read_skin(Reader& reader, const Item&) {
  const Names& names = reader.names["skin"];
  for (std::size_t i = 0; i < names.all.size(); ++i) {
    Skin skin = read_patch(reader, names.items[i]);
    skin.name = names.all[i];
    reader.device().skins.push_back(skin);
  }
}

}  // namespace tuft::casefile
