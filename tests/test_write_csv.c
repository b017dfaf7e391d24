/* Tests of src/write/write_csv.c. SPDX-License-Identifier: MIT */
#include "write/files.h"

#include "sample_job.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>

static void expect(const Job *job, bool (*write)(const Job *, FILE *, Err *), const char *want) {
    char *got = sample_print(job, write);
    assert_non_null(got);
    assert_string_equal(got, want);
    free(got);
}

#define HEAD                                                                                                 \
    "rope,candy,shape,width_mm,height_mm,a_mm,b_mm,inset_left_mm,inset_right_mm,high_left_mm,high_right_mm," \
    "corners,rim,count,length_each_mm,total_length_m,mass_g,made,blocks\r\n"

static void each_row_of_the_bill_is_a_line(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    expect(&s.job, write_ropes,
           HEAD "1,white,strip,12.00,60.00,12.00,12.00,0.00,0.00,60.00,60.00,0.00 60.00;0.00 0.00;12.00 "
                "0.00;12.00 60.00,yes,1,305.0,0.31,310.3,1,2\r\n"
                "2,red,wedge,60.00,48.00,0.00,60.00,0.00,60.00,48.00,48.00,0.00 48.00;0.00 0.00;60.00 "
                "48.00,no,12,305.0,3.66,1250.5,12,1\r\n");
    expect(&s.job, write_wraps,
           "kind,candy,count,thickness_mm,width_mm,length_mm,mass_g,to_make_g,blocks\r\n"
           "ring,red,1,3.00,160.5,305.0,190.0,190.0,\r\n"
           "jacket,red,6,5.80,28.8,305.0,66.5,66.5,\r\n");
    expect(&s.job, write_materials,
           "candy,finish,share_of_log,volume_ml,mass_g,with_spare_g,block_ends_g,dyed_to_order\r\n"
           "white,pulled,0.6000,2000.0,2600.0,2730.0,0.0,no\r\n"
           "red,pulled,0.4000,1300.0,1690.0,1774.5,42.5,no\r\n");
}

static void where_inches_are_spoken_the_columns_say_so(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    s.job.order.units = UNITS_IN;
    s.job.bill.rope_types = s.job.bill.wraps = s.job.bill.materials = 1;
    /* 12 mm / 25.4 = 0.472; 0.3062 m / 0.3048 = 1.005; 310.27 g / 28.3495 = 10.94 */
    expect(&s.job, write_ropes,
           "rope,candy,shape,width_in,height_in,a_in,b_in,inset_left_in,inset_right_in,high_left_in,high_"
           "right_in,"
           "corners,rim,count,length_each_in,total_length_ft,mass_oz,made,blocks\r\n"
           "1,white,strip,0.472,2.362,0.472,0.472,0.000,0.000,2.362,2.362,0.000 2.362;0.000 0.000;0.472 "
           "0.000;0.472 2.362,yes,1,12.01,1.00,10.94,1,2\r\n");
    expect(&s.job, write_wraps,
           "kind,candy,count,thickness_in,width_in,length_in,mass_oz,to_make_oz,blocks\r\n"
           "ring,red,1,0.118,6.32,12.01,6.70,6.70,\r\n");
    expect(&s.job, write_materials,
           "candy,finish,share_of_log,volume_ml,mass_oz,with_spare_oz,block_ends_oz,dyed_to_order\r\n"
           "white,pulled,0.6000,2000.0,91.71,96.30,0.00,no\r\n");
}

static void a_type_names_each_block_it_is_joined_into_once(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    s.rope[0].type = 1; /* the strip on top is of the wedge's type, and so is the trim, but trims
                           are no ropes */
    s.rope[2].type = 1;
    s.job.bill.rope[0] = s.job.bill.rope[1];
    expect(&s.job, write_ropes,
           HEAD "1,red,wedge,60.00,48.00,0.00,60.00,0.00,60.00,48.00,48.00,0.00 48.00;0.00 0.00;60.00 "
                "48.00,no,12,305.0,3.66,1250.5,12,\r\n"
                "2,red,wedge,60.00,48.00,0.00,60.00,0.00,60.00,48.00,48.00,0.00 48.00;0.00 0.00;60.00 "
                "48.00,no,12,305.0,3.66,1250.5,12,1 2\r\n");
}

static void slanted_sections_tell_their_measures(void **state) {
    (void)state;
    static const struct {
        Outline section;
        const char *want;
    } row[] = {
        {{4, {{0, 9}, {3, 0}, {15, 0}, {24, 9}}},
         "tapered strip,24.00,9.00,12.00,24.00,3.00,9.00,9.00,9.00,0.00 9.00;3.00 0.00;15.00 0.00;24.00 "
         "9.00,"},
        {{4, {{0, 9}, {0, 4}, {15, 0}, {24, 9}}}, /* its top is not level */
         "tapered strip,24.00,9.00,,24.00,0.00,9.00,5.00,9.00,0.00 9.00;0.00 4.00;15.00 0.00;24.00 9.00,"},
        {{5, {{0, 12}, {0, 0}, {19, 0}, {24, 4}, {24, 12}}},
         "corner-cut strip,24.00,12.00,,24.00,,,,,0.00 12.00;0.00 0.00;19.00 0.00;24.00 4.00;24.00 12.00,"},
    };
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        Sample s;
        sample_fill(&s);
        s.row[0].section = row[i].section;
        s.row[0].shape = outline_shape(&row[i].section);
        s.row[0].width_mm = 24;
        s.row[0].height_mm = row[i].section.corner[0].y;
        s.row[0].rim = false;
        char *got = sample_print(&s.job, write_ropes);
        assert_non_null(got);
        if (!strstr(got, row[i].want)) fail_msg("no %s in\n%s", row[i].want, got);
        free(got);
    }
}

static void hostile_names_stay_in_their_cell(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    strcpy(s.job.palette.candy[0].name, "=cmd|'/c calc',\"x\"\r\n\xFF");
    s.job.bill.rope_types = 1;
    expect(&s.job, write_ropes,
           HEAD "1,\"'=cmd|'/c calc',\"\"x\"\"???\",strip,12.00,60.00,12.00,12.00,0.00,0.00,60.00,60.00,0.00 "
                "60.00;0.00 0.00;12.00 0.00;12.00 60.00,yes,1,305.0,0.31,310.3,1,2\r\n");
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(each_row_of_the_bill_is_a_line),
                                       cmocka_unit_test(where_inches_are_spoken_the_columns_say_so),
                                       cmocka_unit_test(a_type_names_each_block_it_is_joined_into_once),
                                       cmocka_unit_test(slanted_sections_tell_their_measures),
                                       cmocka_unit_test(hostile_names_stay_in_their_cell)};
    return cmocka_run_group_tests_name("write_csv", tests, NULL, NULL);
}
