gw_test(base_test ROOMS base SOURCES base_test.cpp LIBS GTest::gmock rapidcheck)
