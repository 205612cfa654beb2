#include "views.h"
