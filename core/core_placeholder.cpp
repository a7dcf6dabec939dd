#include "core/finding.h"
#include "core/job.h"
