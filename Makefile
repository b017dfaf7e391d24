# logocane. Everything built goes to build/. `make help` lists the targets.
PREFIX ?= /usr/local
DESTDIR ?=
CC ?= cc
CFLAGS ?= -O3 -g
BUILD ?= build
WERROR ?=

PACKAGES = gcc libc6-dev make pkg-config libpng-dev libstb-dev libcairo2-dev libinih-dev libcjson-dev \
           fonts-dejavu-core
TEST_PACKAGES = libcmocka-dev liblcms2-dev libleptonica-dev poppler-utils

WARN = -Wall -Wextra -Wshadow -Wconversion -Wno-sign-conversion -Wdouble-promotion -Wstrict-prototypes \
       -Wmissing-prototypes -Wvla -Wwrite-strings -Wcast-qual -Wformat=2 -Wundef $(WERROR)
STD = -std=c11 -pedantic -D_GNU_SOURCE -ffp-contract=off
HARDEN = -fstack-protector-strong -fPIE
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

$(BUILD)/logocane: $(OBJECTS)
	$(CC) $(CFLAGS) $(ALL_LDFLAGS) -o $@ $^ $(DEPS_LIBS)

$(LIBRARY): $(filter-out $(BUILD)/main.o,$(OBJECTS))
	@rm -f $@
	ar rcsD $@ $^

$(BUILD)/%.o: src/%.c Makefile | need
	@mkdir -p $(@D)
	$(CC) $(ALL_CFLAGS) -c -o $@ $<

# The stb files are other people's code: compiled with their own, relaxed warnings.
$(BUILD)/stb_%.o: WARN = -w

$(BUILD)/test_%: tests/test_%.c $(LIBRARY) | need-test
	@mkdir -p $(@D)
	$(CC) $(ALL_CFLAGS) $(TEST_CFLAGS) -Isrc $(ALL_LDFLAGS) -o $@ $< $(LIBRARY) $(DEPS_LIBS) $(TEST_LIBS)

# --- what is missing --------------------------------------------------------------------------------------------
need:
	@pkg-config --exists $(LIBS) 2>/dev/null && [ -e /usr/include/stb/stb_image.h ] || $(MAKE) --no-print-directory setup-build
need-test:
	@pkg-config --exists cmocka lcms2 lept 2>/dev/null && command -v pdftotext >/dev/null || $(MAKE) --no-print-directory setup

setup-build:
	@sh tests/setup.sh $(PACKAGES)
setup:
	@sh tests/setup.sh $(PACKAGES) $(TEST_PACKAGES)

check: $(BUILD)/logocane $(TESTS)
	@BUILD=$(BUILD) sh tests/run.sh $(TESTS)

# The sample logos are drawn by a program of their own; its pictures are committed.
samples: $(BUILD)/draw_samples
	$(BUILD)/draw_samples samples

$(BUILD)/draw_samples: samples/draw.c Makefile | need
	@mkdir -p $(@D)
	$(CC) $(ALL_CFLAGS) $(ALL_LDFLAGS) -o $@ $< $(DEPS_LIBS)

headers:
	@for h in src/*.h; do $(CC) $(STD) $(WARN) $(DEPS_CFLAGS) -fsyntax-only -x c $$h || exit 1; done; echo "every header compiles alone"

clean:
	rm -rf $(BUILD)

-include $(OBJECTS:.o=.d) $(TESTS:=.d)
.PHONY: all setup setup-build need need-test check samples headers clean
