gw_test(clip_test ROOMS plane SOURCES clip_test.cpp LIBS rapidcheck)
