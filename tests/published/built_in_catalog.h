// built_in_catalog.h: the program's own data files as one catalogue, for the published checks.
#pragma once

#include <gtest/gtest.h>

#include "groovewright/catalog.h"

namespace groovewright::catalog {

inline Catalog built_in_catalog() {
  Diagnostics diagnostics;
  const auto catalog = read_catalog(built_in_files(), diagnostics);
  EXPECT_TRUE(catalog.has_value()) << diagnostics.text();
  return catalog.value_or(Catalog{});
}

}  // namespace groovewright::catalog
