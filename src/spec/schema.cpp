#include "schema_writer.h"

#include "describe.h"
#include "describe_drive.h"

namespace groovewright::spec {

std::string pulley_schema(const Names& known) { return schema_of<Pulley>("pulley", known); }
std::string drive_schema(const Names& known) { return schema_of<Drive>("drive", known); }

}  // namespace groovewright::spec
