// The loadable PDF writer: one exported function, everything else stays inside.
#include "groovewright/ink.h"

extern "C" __attribute__((visibility("default"))) groovewright::ink::PdfWriter groovewright_pdf_writer() {
  return &groovewright::ink::to_pdf;
}
