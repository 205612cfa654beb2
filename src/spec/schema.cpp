#include "schema_writer.h"

#include "describe.h"
#include "describe_range.h"

namespace groovewright::spec {

std::string pulley_schema(const Names& known) { return schema_of<Pulley>("pulley", known); }
std::string drive_schema(const Names& known) { return schema_of<Drive>("drive", known); }
std::string range_schema(const Names& known) { return schema_of<Range>("range", known); }

}  // namespace groovewright::spec
