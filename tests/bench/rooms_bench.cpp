// What each stage costs inside one process, for the eight-rib demo. The kernel's stages are timed too.
#include <benchmark/benchmark.h>

#include <fstream>
#include <sstream>

#include "groovewright/catalog.h"
#include "groovewright/gauge.h"
#include "groovewright/ink.h"
#include "groovewright/job.h"
#include "groovewright/mesh.h"

namespace {

using namespace groovewright;

constexpr double kDeflection = 0.05;

TextFile demo() {
  std::ifstream in(std::string(GW_SOURCE_DIR) + "/profiles/demo/larkspur-crank-24.yaml");
  std::ostringstream text;
  text << in.rdbuf();
  return {"larkspur-crank-24.yaml", text.str()};
}

spec::Pulley pulley() {
  Diagnostics d;
  return spec::read_pulley(demo(), d).value();
}

job::Prepared prepared() {
  Diagnostics d;
  return job::prepare(pulley(), {}, {}, d).value();
}

const solid::Kernel& kernel() {
  static const auto made = solid::make_kernel();
  return *made;
}

void read(benchmark::State& state) {
  const TextFile file = demo();
  for (auto _ : state) {
    Diagnostics d;
    benchmark::DoNotOptimize(spec::read_pulley(file, d));
  }
}
BENCHMARK(read)->Unit(benchmark::kMicrosecond);

void catalogue_and_resolve_and_section(benchmark::State& state) {
  const auto p = pulley();
  for (auto _ : state) {
    Diagnostics d;
    benchmark::DoNotOptimize(job::prepare(p, {}, {}, d));
  }
}
BENCHMARK(catalogue_and_resolve_and_section)->Unit(benchmark::kMicrosecond);

void section_only(benchmark::State& state) {
  const auto p = prepared();
  for (auto _ : state) {
    Diagnostics d;
    benchmark::DoNotOptimize(section::half_section(p.part, d));
  }
}
BENCHMARK(section_only)->Unit(benchmark::kMicrosecond);

void gauge_rows(benchmark::State& state) {
  const auto p = prepared();
  for (auto _ : state) benchmark::DoNotOptimize(gauge::check(p.part, p.section));
}
BENCHMARK(gauge_rows)->Unit(benchmark::kMicrosecond);

void design_rules(benchmark::State& state) {
  const auto p = prepared();
  for (auto _ : state) benchmark::DoNotOptimize(section::design_rules(p.part, p.section));
}
BENCHMARK(design_rules)->Unit(benchmark::kMicrosecond);

void tessellate(benchmark::State& state) {
  const auto p = prepared();
  std::size_t triangles = 0;
  for (auto _ : state) triangles = mesh::tessellate(p.section.body, kDeflection).triangles.size();
  state.counters["triangles"] = static_cast<double>(triangles);
}
BENCHMARK(tessellate)->Unit(benchmark::kMicrosecond);

void mesh_generators(benchmark::State& state) {
  const auto p = prepared();
  const auto m = mesh::tessellate(p.section.body, kDeflection);
  const auto lean = gauge::lean_window(p.part);
  for (auto _ : state) benchmark::DoNotOptimize(mesh::generators(m, lean.least, lean.most));
}
BENCHMARK(mesh_generators)->Unit(benchmark::kMicrosecond);

template <std::string (*Write)(const mesh::Mesh&, const mesh::Label&)>
void mesh_writer(benchmark::State& state) {
  const auto p = prepared();
  const auto m = mesh::tessellate(p.section.body, kDeflection);
  const mesh::Label label{p.part.name, p.part.title, p.part.material.name};
  for (auto _ : state) benchmark::DoNotOptimize(Write(m, label));
}
BENCHMARK(mesh_writer<mesh::to_stl>)->Unit(benchmark::kMicrosecond);
BENCHMARK(mesh_writer<mesh::to_3mf>)->Unit(benchmark::kMicrosecond);
BENCHMARK(mesh_writer<mesh::to_glb>)->Unit(benchmark::kMicrosecond);

void solid_make(benchmark::State& state) {
  const auto p = prepared();
  for (auto _ : state) benchmark::DoNotOptimize(kernel().make(p.section.body));
}
BENCHMARK(solid_make)->Unit(benchmark::kMicrosecond);

void solid_prove(benchmark::State& state) {
  const auto shape = kernel().make(prepared().section.body);
  for (auto _ : state) benchmark::DoNotOptimize(kernel().prove(shape));
}
BENCHMARK(solid_prove)->Unit(benchmark::kMicrosecond);

void step_write(benchmark::State& state) {
  const auto shape = kernel().make(prepared().section.body);
  for (auto _ : state) benchmark::DoNotOptimize(kernel().to_step(shape, {}));
}
BENCHMARK(step_write)->Unit(benchmark::kMicrosecond);

void step_read(benchmark::State& state) {
  const std::string step = kernel().to_step(kernel().make(prepared().section.body), {});
  for (auto _ : state) benchmark::DoNotOptimize(kernel().from_step(step));
}
BENCHMARK(step_read)->Unit(benchmark::kMicrosecond);

void sheets(benchmark::State& state) {
  const auto sheet = job::check(prepared());
  for (auto _ : state) {
    benchmark::DoNotOptimize(report::to_markdown(sheet, report::Units::mm));
    benchmark::DoNotOptimize(report::to_csv(sheet, report::Units::mm));
    benchmark::DoNotOptimize(report::to_json(sheet));
  }
}
BENCHMARK(sheets)->Unit(benchmark::kMicrosecond);

job::Prepared drawn() {
  job::Prepared p = prepared();
  Diagnostics d;
  if (!job::plan_drawing(p, {}, {}, d)) std::abort();
  return p;
}

void drawing_plan(benchmark::State& state) {
  job::Prepared p = prepared();
  for (auto _ : state) {
    Diagnostics d;
    benchmark::DoNotOptimize(job::plan_drawing(p, {}, {}, d));
  }
}
BENCHMARK(drawing_plan)->Unit(benchmark::kMicrosecond);

template <std::string (*Write)(const plane::Page&, const Typeface&)>
void page_writer(benchmark::State& state) {
  const job::Prepared p = drawn();
  for (auto _ : state) benchmark::DoNotOptimize(Write(p.drawing->page, p.typeface));
}
BENCHMARK(page_writer<ink::to_svg>)->Unit(benchmark::kMicrosecond);
BENCHMARK(page_writer<ink::to_dxf>)->Unit(benchmark::kMicrosecond);

void page_to_pdf(benchmark::State& state) {
  const job::Prepared p = drawn();
  std::ifstream in(GW_DRAWING_FONT, std::ios::binary);
  std::ostringstream font;
  font << in.rdbuf();
  for (auto _ : state) benchmark::DoNotOptimize(ink::to_pdf(p.drawing->page, p.typeface, font.str()));
}
BENCHMARK(page_to_pdf)->Unit(benchmark::kMicrosecond);

}  // namespace

BENCHMARK_MAIN();
