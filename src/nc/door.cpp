#include "groovewright/nc.h"  // the door must compile on its own
