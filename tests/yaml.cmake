gw_test(yaml_test ROOMS base yaml SOURCES yaml_test.cpp LIBS GTest::gmock)
