gw_test(program_test ROOMS job SOURCES program_test.cpp readers/rs274.cpp)
gw_test(turning_published_test ROOMS toolpath SOURCES published/turning_test.cpp)
gw_test(program_mutation_test ROOMS job SOURCES program_mutation_test.cpp)
