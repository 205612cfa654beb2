gw_test(lettering_test ROOMS catalog plane mesh SOURCES lettering_test.cpp LIBS rapidcheck)
