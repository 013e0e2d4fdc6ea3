app_test(ChooseFindsTheLightestWithinLimits app_choose.sh ${CMAKE_CURRENT_SOURCE_DIR}/robustness)
