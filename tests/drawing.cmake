gw_test(drawing_test ROOMS drawing gauge section part spec catalog plane SOURCES drawing_test.cpp)
