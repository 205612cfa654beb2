gw_test(rooms_test SOURCES rooms_test.cpp)
