app_test(SwatchBecomesAMaterialThatASceneTakes app_swatch.sh ${PROJECT_SOURCE_DIR})
