gw_test(shop_test ROOMS catalog yaml SOURCES shop_test.cpp)
