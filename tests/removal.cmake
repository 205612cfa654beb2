gw_test(removal_test ROOMS removal SOURCES removal_test.cpp)
gw_test(removal_random_test ROOMS removal SOURCES removal_random_test.cpp LIBS rapidcheck)
gw_test(removal_findings_test ROOMS removal SOURCES removal_findings_test.cpp)
gw_test(removal_drill_test ROOMS removal SOURCES removal_drill_test.cpp)
