gw_test(plane_faults_test ROOMS catalog plane SOURCES plane_faults_test.cpp)
gw_test(plane_chart_test ROOMS catalog plane SOURCES plane_chart_test.cpp LIBS rapidcheck)
