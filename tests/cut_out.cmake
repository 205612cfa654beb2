gw_test(cut_out_test ROOMS mesh plane SOURCES cut_out_test.cpp LIBS rapidcheck)

# Cuts judged by a program that no one here wrote.
gw_test(cut_reader_test ROOMS mesh plane SOURCES readers/cut_reader_test.cpp)
