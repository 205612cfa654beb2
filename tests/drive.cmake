gw_test(drive_route_test ROOMS drive SOURCES drive_route_test.cpp LIBS rapidcheck)
gw_test(drive_swing_test ROOMS drive SOURCES drive_swing_test.cpp LIBS rapidcheck)
gw_test(drive_clearance_test ROOMS drive SOURCES drive_clearance_test.cpp LIBS rapidcheck)
gw_test(drive_published_test ROOMS drive SOURCES published/drive_test.cpp)
