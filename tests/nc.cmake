gw_test(nc_test ROOMS nc catalog SOURCES nc_test.cpp LIBS rapidcheck GTest::gmock)
gw_test(nc_write_test ROOMS nc catalog SOURCES nc_write_test.cpp LIBS rapidcheck GTest::gmock)
gw_test(nc_round_trip_test ROOMS nc catalog SOURCES nc_round_trip_test.cpp LIBS rapidcheck)
gw_test(rs274_reader_test ROOMS nc catalog SOURCES readers/rs274_reader_test.cpp readers/rs274.cpp LIBS rapidcheck)
