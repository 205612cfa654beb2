gw_test(plane_test ROOMS plane SOURCES plane_test.cpp LIBS rapidcheck)
