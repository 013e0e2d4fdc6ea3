#include "scenes/builder/tote/tote_contact.hpp"

#include <algorithm>

namespace totebench::scenes {
namespace {

enum Group : int { kCloth, kBase, kBaseSheet, kStrap, kSewnEnd };
static_assert(kSewnEnd < kThingsGroup && kThingsGroup < kTableGroup);

}  // namespace

std::vector<char> near_sewn_ends(const Scene& scene, const solver::ShellMesh& mesh) {
  if (scene.straps.empty()) return std::vector<char>(mesh.triangles.size(), 0);
  const double overlap = scene.straps.front().overlap_m;
  const double length = scene.straps.front().length_m + 2 * overlap;
  std::vector<char> sewn_node(mesh.n_nodes(), 0);
  for (int i = 0; i < mesh.n_triangles(); ++i) {
    if (!is_strap(mesh.triangles[i].region)) continue;
    const double s = mesh.rest[i].row(0).head<3>().mean();
    if (s > overlap && s < length - overlap) continue;
    for (const int node : mesh.triangles[i].node) sewn_node[node] = 1;
  }
  std::vector<char> near(mesh.triangles.size(), 0);
  for (int i = 0; i < mesh.n_triangles(); ++i) {
    const auto& node = mesh.triangles[i].node;
    near[i] = is_strap(mesh.triangles[i].region) &&
              std::any_of(node.begin(), node.end(), [&](int n) { return sewn_node[n] != 0; });
  }
  return near;
}

solver::Contact tote_contact(const Scene& scene, const Tote& tote) {
  const solver::ShellMesh& mesh = tote.model.mesh;
  const std::vector<char> sewn = near_sewn_ends(scene, mesh);
  solver::Contact contact;
  contact.thickness_m = tote.thickness_m;
  for (int i = 0; i < mesh.n_triangles(); ++i) {
    const int region = mesh.triangles[i].region;
    int group = kCloth;
    if (is_strap(region)) group = sewn[i] != 0 ? kSewnEnd : kStrap;
    if (region == kRegionBase) group = kBase;
    if (region == kRegionBaseSheet) group = kBaseSheet;
    contact.group.push_back(group);
  }
  contact.together = {{kSewnEnd, kCloth},
                      {kSewnEnd, kBase},
                      {kSewnEnd, kBaseSheet},
                      {kBase, kBaseSheet},
                      {kTableGroup, kTableGroup}};
  solver::Model touching;
  touching.mesh = mesh;
  touching.contact = contact;
  touching.bodies = tote.model.bodies;
  return solver::starts_in_itself(touching) ? solver::Contact{} : contact;
}

}  // namespace totebench::scenes
