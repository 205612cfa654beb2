gw_test(drive_route_test ROOMS drive SOURCES drive_route_test.cpp LIBS rapidcheck)
gw_test(drive_published_test ROOMS drive SOURCES published/drive_test.cpp)
gw_test(drive_charge_test ROOMS drive SOURCES published/charge_test.cpp)
