# logocane. Everything built goes to build/. `make help` lists the targets.
PREFIX ?= /usr/local
DESTDIR ?=
CC ?= cc
CFLAGS ?= -O3 -g
BUILD ?= build
WERROR ?=
DEMO ?= samples/harbour-cafe.png

PACKAGES = gcc libc6-dev make pkg-config libpng-dev libstb-dev libcairo2-dev libinih-dev libcjson-dev \
           fonts-dejavu-core
TEST_PACKAGES = libcmocka-dev liblcms2-dev libleptonica-dev poppler-utils
CLANG_PACKAGES = clang clang-format clang-tidy

WARN = -Wall -Wextra -Wshadow -Wconversion -Wno-sign-conversion -Wdouble-promotion -Wstrict-prototypes \
       -Wmissing-prototypes -Wvla -Wwrite-strings -Wcast-qual -Wformat=2 -Wundef $(WERROR)
STD = -std=c11 -pedantic -D_GNU_SOURCE -ffp-contract=off
# Fortified only where it works: it needs optimisation, and the sanitizers bring checks of their own.
FORTIFY = $(if $(and $(filter -O1 -O2 -O3 -Os,$(CFLAGS)),$(if $(findstring -fsanitize,$(CFLAGS)),,yes)),-U_FORTIFY_SOURCE -D_FORTIFY_SOURCE=2)
HARDEN = $(FORTIFY) -fstack-protector-strong -fPIE
LIBS = libpng cairo inih libcjson
DEPS_CFLAGS = $(subst -I,-isystem ,$(shell pkg-config --cflags $(LIBS) 2>/dev/null)) -isystem /usr/include/stb
DEPS_LIBS = $(shell pkg-config --libs $(LIBS) 2>/dev/null) -lm
TEST_CFLAGS = $(subst -I,-isystem ,$(shell pkg-config --cflags cmocka lcms2 lept 2>/dev/null))
TEST_LIBS = $(shell pkg-config --libs cmocka lcms2 lept 2>/dev/null)
ALL_CFLAGS = $(STD) $(WARN) $(HARDEN) $(DEPS_CFLAGS) -MMD -MP $(CFLAGS)
ALL_LDFLAGS = -pie -Wl,-z,relro,-z,now $(LDFLAGS)

SOURCES = $(wildcard src/*.c)
OBJECTS = $(SOURCES:src/%.c=$(BUILD)/%.o)
LIBRARY = $(BUILD)/liblogocane.a
TESTS = $(patsubst tests/%.c,$(BUILD)/%,$(wildcard tests/test_*.c))

all: $(BUILD)/logocane

help:
	@echo "make            builds $(BUILD)/logocane; installs missing libraries through apt"
	@echo "make demo       judges a sample logo and writes $(BUILD)/demo"
	@echo "make check      runs the tests;  make san  runs them with the sanitizers"
	@echo "make quality    scores the program on pictures by others"
	@echo "make samples    draws the sample logos anew"
	@echo "make tidy, format, format-check, headers, clean"

$(BUILD)/logocane: $(OBJECTS)
	$(CC) $(CFLAGS) $(ALL_LDFLAGS) -o $@ $^ $(DEPS_LIBS)

$(LIBRARY): $(filter-out $(BUILD)/main.o,$(OBJECTS))
	@rm -f $@
	ar rcsD $@ $^

$(BUILD)/%.o: src/%.c Makefile | need
	@mkdir -p $(@D)
	$(CC) $(ALL_CFLAGS) -c -o $@ $<

# The stb files are other people's code: compiled without warnings, and with signed shifts that wrap, which they lean on.
$(BUILD)/stb_%.o: WARN = -w -fwrapv

# Functions that a test puts its own in place of: those of ours that call them get __wrap_NAME.
comma = ,
WRAP_folder = renameat2

$(BUILD)/test_%: tests/test_%.c $(LIBRARY) | need-test
	@mkdir -p $(@D)
	$(CC) $(ALL_CFLAGS) -MF $@.d -MT $@ $(TEST_CFLAGS) -Isrc $(ALL_LDFLAGS) $(addprefix -Wl$(comma)--wrap=,$(WRAP_$*)) -o $@ $< $(LIBRARY) $(DEPS_LIBS) $(TEST_LIBS)

# --- what is missing --------------------------------------------------------------------------------------------
need:
	@command -v $(CC) >/dev/null && pkg-config --exists $(LIBS) 2>/dev/null && [ -e /usr/include/stb/stb_image.h ] || $(MAKE) --no-print-directory setup-build
# After `need`: two package installs at once would lock each other out.
need-test: | need
	@pkg-config --exists cmocka lcms2 lept 2>/dev/null && command -v pdftotext >/dev/null || $(MAKE) --no-print-directory setup
need-clang: | need
	@command -v clang clang-format clang-tidy >/dev/null || $(MAKE) --no-print-directory setup-clang

setup-build:
	@sh tests/setup.sh $(PACKAGES)
setup:
	@sh tests/setup.sh $(PACKAGES) $(TEST_PACKAGES)
setup-clang:
	@sh tests/setup.sh $(CLANG_PACKAGES)

check: $(BUILD)/logocane $(TESTS)
	@BUILD=$(BUILD) FORTIFY='$(FORTIFY)' sh tests/run.sh $(TESTS)

# The sample logos are drawn by a program of their own; its pictures are committed.
samples: $(BUILD)/draw_samples
	$(BUILD)/draw_samples samples

$(BUILD)/draw_samples: samples/draw.c Makefile | need
	@mkdir -p $(@D)
	$(CC) $(ALL_CFLAGS) -MF $@.d -MT $@ $(ALL_LDFLAGS) -o $@ $< $(DEPS_LIBS)

# One sample judged and written to build/demo; a verdict of "no" (status 1) is no failure of the demo.
demo: $(BUILD)/logocane
	$(BUILD)/logocane --force -o $(BUILD)/demo $(DEMO) || [ $$? = 1 ]
	@echo; echo "the job folder is $(BUILD)/demo:"; ls $(BUILD)/demo

# How well the program does on pictures by others; writes $(BUILD)/quality.csv and contact sheets quality-1.png ...
quality: $(BUILD)/quality
	@sh tests/setup.sh openclipart-png
	$(BUILD)/quality tests/quality-set.txt /usr/share/openclipart/png $(BUILD)

QUALITY = $(BUILD)/quality.o $(BUILD)/quality_sheet.o
$(BUILD)/quality: $(QUALITY) $(LIBRARY)
	$(CC) $(CFLAGS) $(ALL_LDFLAGS) -o $@ $(QUALITY) $(LIBRARY) $(DEPS_LIBS)

$(QUALITY): $(BUILD)/%.o: tests/%.c Makefile | need
	@mkdir -p $(@D)
	$(CC) $(ALL_CFLAGS) -Isrc -c -o $@ $<

# --- checks beyond `make check` ---------------------------------------------------------------------------------
SANITIZE = -fsanitize=address,undefined
san:
	@LSAN_OPTIONS=suppressions=$(CURDIR)/tests/lsan.supp:print_suppressions=0 ASAN_OPTIONS=detect_leaks=1 UBSAN_OPTIONS=print_stacktrace=1 $(MAKE) --no-print-directory check BUILD=$(BUILD)/san \
	  CFLAGS='-O2 -g $(SANITIZE) -fno-sanitize-recover=all -fno-omit-frame-pointer' LDFLAGS='$(SANITIZE)'

OUR_FILES = $(filter-out src/stb_%,$(wildcard src/*.[ch] tests/*.[ch] samples/*.c))
tidy: | need need-clang
	clang-tidy --quiet $(filter-out src/stb_%,$(SOURCES)) -- $(STD) $(DEPS_CFLAGS)
format: | need-clang
	clang-format -i $(OUR_FILES)
format-check: | need-clang
	@clang-format --dry-run -Werror $(OUR_FILES) && echo "the format is clean"

headers:
	@for h in src/*.h; do $(CC) $(STD) $(WARN) $(DEPS_CFLAGS) -fsyntax-only -x c $$h || exit 1; done; echo "every header compiles alone"

clean:
	rm -rf $(BUILD)

-include $(OBJECTS:.o=.d) $(QUALITY:.o=.d) $(addsuffix .d,$(TESTS) $(BUILD)/draw_samples)
.PHONY: all help setup setup-build setup-clang need need-test need-clang check samples demo quality san tidy format format-check \
        headers clean
