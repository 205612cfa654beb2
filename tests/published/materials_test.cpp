// Materials and finishes against the published figures, in the units in which those were printed.
#include <string>

#include <gtest/gtest.h>

#include "built_in_catalog.h"

namespace groovewright::catalog {
namespace {

class Materials : public testing::Test {
 protected:
  const Catalog catalog_ = built_in_catalog();
};

struct Row {
  const char* id;
  double density_g_cm3, modulus_gpa, poisson, yield, expansion_per_million;
  double within_density, within_modulus, within_yield, within_expansion;
  const char* source;
};
constexpr Row kRows[] = {
    {"aluminium-6061-T6", 2.70, 68.9, 0.33, 275.8, 23.58, 0.005, 0.05, 0.5, 0.05,
     "40 ksi and 13.1e-6/F on handbook pages"},
    {"aluminium-7075-T6", 2.81, 71.7, 0.33, 503, 23.4, 0.005, 0.05, 0.5, 0.05, "typical, from memory"},
    {"aluminium-2024-T3", 2.78, 73.1, 0.33, 344.7, 23.22, 0.005, 0.05, 0.5, 0.05,
     "344.7 MPa and 12.9e-6/F on handbook pages"},
    {"steel-1045", 7.86, 203, 0.29, 305, 11.75, 0.011, 3.1, 5.1, 0.26,
     "7.85-7.87, 200-206, 300-310, 11.5-12, handbook pages"},
    {"steel-4140", 7.85, 205, 0.29, 417, 12.3, 0.005, 0.05, 0.5, 0.05, "annealed, from memory"},
    {"cast-iron-250", 7.15, 110, 0.26, 0, 10.75, 0.051, 10.1, 0, 0.26, "7.1-7.2, 100-120, 10.5-11, handbook pages"},
};

TEST_F(Materials, HoldThePublishedFigures) {
  ASSERT_EQ(catalog_.materials.size(), std::size(kRows));
  for (const Row& row : kRows) {
    const Material& m = catalog_.materials.at(row.id);
    const std::string says = std::string(row.id) + ", " + row.source;
    EXPECT_NEAR(m.density.value * 1e6, row.density_g_cm3, row.within_density) << says;
    EXPECT_NEAR(m.modulus.value / 1000, row.modulus_gpa, row.within_modulus) << says;
    EXPECT_NEAR(m.poisson.value, row.poisson, 1e-12) << says;
    EXPECT_NEAR(m.yield.value, row.yield, row.within_yield) << says;
    EXPECT_NEAR(m.expansion.value * 1e6, row.expansion_per_million, row.within_expansion) << says;
  }
  EXPECT_NEAR(catalog_.materials.at("aluminium-6061-T6").tensile.value, 310.3, 0.5) << "45 ksi on a handbook page";
  EXPECT_NEAR(catalog_.materials.at("aluminium-2024-T3").tensile.value, 482.6, 0.5) << "handbook page";
  EXPECT_NEAR(catalog_.materials.at("cast-iron-250").tensile.value, 250, 0.5) << "handbook page";
}

TEST_F(Materials, GrowByTheFilmAsTheShopsSay) {
  struct Film {
    const char* id;
    double film_in, hole_smaller_in;
    const char* source;
  };
  constexpr Film kFilms[] = {
      {"hard-anodise", 0.002, 0.002, "three shops' pages: 0.002 in film, hole diameter - 0.002 in"},
      {"hard-anodise", 0.0015, 0.0015, "a shop's page: 1.5 mil, hole diameter - 1.5 mil"},
      {"anodise", 0.0006, 0.0004, "a shop's page: type II 0.0006 in, hole - 0.0004 in"},
      {"none", 0, 0, "bare metal"}};
  for (const Film& film : kFilms) {
    const Finish& finish = catalog_.finishes.at(film.id);
    EXPECT_NEAR(2 * finish.growth_share * film.film_in, film.hole_smaller_in, 1e-12) << film.id << ", " << film.source;
  }
  EXPECT_NEAR(catalog_.finishes.at("hard-anodise").usual_min, 0.001 * 25.4, 1e-12) << "usual 0.001 to 0.0025 in";
  EXPECT_NEAR(catalog_.finishes.at("hard-anodise").usual_max, 0.0025 * 25.4, 1e-12) << "usual 0.001 to 0.0025 in";
}

TEST_F(Materials, AreHeavyEnoughForTheBenchmarkAnnulus) {
  // 100 x 25 bore x 25 long in aluminium of 2700 kg/m3.
  const double pi = 3.14159265358979323846;
  const double volume = pi * (50.0 * 50.0 - 12.5 * 12.5) * 25.0;
  EXPECT_NEAR(volume * catalog_.materials.at("aluminium-6061-T6").density.value, 0.497010, 5.1e-7)
      << "kg, own recomputation";
}

}  // namespace
}  // namespace groovewright::catalog
