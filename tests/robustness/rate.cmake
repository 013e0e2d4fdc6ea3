app_test(RateRefusesBadInput app_rate.sh ${PROJECT_SOURCE_DIR})
