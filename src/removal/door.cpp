#include "groovewright/removal.h"  // the door must compile on its own
