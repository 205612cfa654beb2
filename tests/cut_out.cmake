gw_test(cut_out_test ROOMS mesh plane SOURCES cut_out_test.cpp LIBS rapidcheck)
