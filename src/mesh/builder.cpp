#include "builder.h"

#include <algorithm>
#include <map>

#include "groovewright/base/broken.h"

namespace groovewright::mesh {

std::vector<std::uint32_t> ids(const Row& row) {
  std::vector<std::uint32_t> run;
  run.reserve(row.size());
  for (const Node& n : row) run.push_back(n.id);
  return run;
}

std::vector<std::uint32_t> reversed(std::vector<std::uint32_t> run) {
  std::reverse(run.begin(), run.end());
  return run;
}

Mesh compacted(Mesh m) {
  constexpr std::uint32_t kUnused = ~std::uint32_t{0};
  std::vector<std::uint32_t> name(m.vertices.size(), kUnused);
  for (const auto& t : m.triangles) {
    for (const std::uint32_t id : t) name[id] = id;
  }
  std::uint32_t used = 0;
  for (std::uint32_t id = 0; id < name.size(); ++id) {
    if (name[id] == kUnused) continue;
    m.vertices[used] = m.vertices[id];
    name[id] = used++;
  }
  m.vertices.resize(used);
  for (auto& t : m.triangles) {
    for (std::uint32_t& id : t) id = name[id];
  }
  return m;
}

void Border::add(std::vector<std::uint32_t> run) { runs_.push_back(std::move(run)); }
void Border::add_closed(std::vector<std::uint32_t> loop) { closed_.push_back(std::move(loop)); }

std::vector<Loop> Border::loops() const {
  std::vector<Loop> loops = closed_;
  std::map<std::uint32_t, std::size_t> by_start;
  for (std::size_t i = 0; i < runs_.size(); ++i) by_start[runs_[i].front()] = i;
  while (!by_start.empty()) {
    Loop loop;
    auto at = by_start.begin();
    while (at != by_start.end()) {
      const std::vector<std::uint32_t>& run = runs_[at->second];
      by_start.erase(at);
      loop.insert(loop.end(), run.begin(), run.end() - 1);
      at = by_start.find(run.back());
      require(at != by_start.end() || run.back() == loop.front(), "tessellate: a wall's outline is open");
    }
    loops.push_back(std::move(loop));
  }
  return loops;
}

void Builder::expect(std::size_t vertices) {
  const std::size_t total = mesh_.vertices.size() + vertices;
  mesh_.vertices.reserve(total);
  mesh_.triangles.reserve(2 * total);  // Euler: two a vertex, but for a few more where holes go through
}

std::uint32_t Builder::add(Vec3 v) {
  mesh_.vertices.push_back(v);
  return static_cast<std::uint32_t>(mesh_.vertices.size() - 1);
}

void Builder::add_triangle(std::uint32_t a, std::uint32_t b, std::uint32_t c) {
  if (a != b && b != c && c != a) mesh_.triangles.push_back({a, b, c});
}

void Builder::zip(const Row& a, const Row& b) {
  std::size_t i = 0, j = 0;
  while (i + 1 < a.size() || j + 1 < b.size()) {
    const bool along_a = j + 1 == b.size() || (i + 1 < a.size() && a[i + 1].angle <= b[j + 1].angle);
    if (along_a) {
      add_triangle(a[i].id, b[j].id, a[i + 1].id);
      ++i;
    } else {
      add_triangle(a[i].id, b[j].id, b[j + 1].id);
      ++j;
    }
  }
}

Mesh merged(const std::vector<const Mesh*>& meshes) {
  Mesh all;
  for (const Mesh* m : meshes) {
    const auto first = static_cast<std::uint32_t>(all.vertices.size());
    all.vertices.insert(all.vertices.end(), m->vertices.begin(), m->vertices.end());
    for (const auto& t : m->triangles) all.triangles.push_back({t[0] + first, t[1] + first, t[2] + first});
  }
  return all;
}

void Builder::fill_level(const std::vector<Loop>& loops, bool faces_up) {
  const auto place = [&](std::uint32_t id) { return plane::Vec2{at(id).x, at(id).y}; };
  fill(loops, place, !faces_up);
}

}  // namespace groovewright::mesh
