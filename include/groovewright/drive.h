// drive.h: the belt drive: its settled model, the belt's way, the tensioner, clearances, loads, and the rows that judge
// them. Knows no document and draws nothing. Start with `Drive` (drive/model.h) and `course` (drive/route.h).
#pragma once

#include "groovewright/drive/analysis.h"
#include "groovewright/drive/clearance.h"
#include "groovewright/drive/loads.h"
#include "groovewright/drive/model.h"
#include "groovewright/drive/ratios.h"
#include "groovewright/drive/route.h"
#include "groovewright/drive/search.h"
#include "groovewright/drive/swing.h"
