gw_test(plane_faults_test ROOMS catalog plane SOURCES plane_faults_test.cpp)
