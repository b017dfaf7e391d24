# logocane. Everything built goes to build/. `make help` lists the targets.
PREFIX ?= /usr/local
DESTDIR ?=
CC ?= cc
CFLAGS ?= -O3 -g
BUILD ?= build
WERROR ?=
# One short line for each file built; `make V=1` shows the commands.
V ?=
SAY = @$(if $(V),:,echo "  $(1) $@")
Q = $(if $(V),,@)
DEMO ?= samples/harbour-cafe.png

VERSION = $(shell sed -n 's/^\#define LOGOCANE_VERSION "\(.*\)"/\1/p' src/app/options.h)

PACKAGES = gcc libc6-dev make pkg-config libpng-dev zlib1g-dev libjpeg-dev libstb-dev libcairo2-dev libpango1.0-dev libcjson-dev \
           fonts-dejavu-core
TEST_PACKAGES = libcmocka-dev liblcms2-dev libleptonica-dev poppler-utils mandoc python3-jsonschema
DEB_PACKAGES = dpkg-dev fonts-dejavu-core
CLANG_PACKAGES = clang clang-format clang-tidy

WARN = -Wall -Wextra -Wshadow -Wconversion -Wno-sign-conversion -Wdouble-promotion -Wstrict-prototypes \
       -Wmissing-prototypes -Wvla -Wwrite-strings -Wcast-qual -Wformat=2 -Wundef $(WERROR)
STD = -std=c11 -pedantic -D_GNU_SOURCE -ffp-contract=off
# Fortified only where it works: it needs optimisation, and the sanitizers bring checks of their own.
FORTIFY = $(if $(and $(filter -O1 -O2 -O3 -Os,$(CFLAGS)),$(if $(findstring -fsanitize,$(CFLAGS)),,yes)),-U_FORTIFY_SOURCE -D_FORTIFY_SOURCE=2)
HARDEN = $(FORTIFY) -fstack-protector-strong -fPIE
LIBS = libpng zlib libjpeg pangocairo cairo libcjson
DEPS_CFLAGS = $(subst -I,-isystem ,$(shell pkg-config --cflags $(LIBS) 2>/dev/null)) -isystem /usr/include/stb
DEPS_LIBS = $(shell pkg-config --libs $(LIBS) 2>/dev/null) -lm
TEST_CFLAGS = $(subst -I,-isystem ,$(shell pkg-config --cflags cmocka lcms2 lept 2>/dev/null))
TEST_LIBS = $(shell pkg-config --libs cmocka lcms2 lept 2>/dev/null)
ALL_CFLAGS = $(STD) $(WARN) $(HARDEN) $(DEPS_CFLAGS) -MMD -MP $(CFLAGS)
ALL_LDFLAGS = -pie -Wl,-z,relro,-z,now $(LDFLAGS)

SOURCES = $(wildcard src/*/*.c)
OBJECTS = $(SOURCES:src/%.c=$(BUILD)/%.o)
LIBRARY = $(BUILD)/liblogocane.a
TESTS = $(patsubst tests/%.c,$(BUILD)/%,$(wildcard tests/test_*.c))
HARNESSES = $(patsubst tests/fuzz_%.c,%,$(wildcard tests/fuzz_*.c))
REPLAYS = $(HARNESSES:%=$(BUILD)/replay_%)

COMPLETIONS = $(BUILD)/completion.bash $(BUILD)/completion.zsh

all: $(BUILD)/logocane $(COMPLETIONS)

help:
	@echo "make            builds $(BUILD)/logocane; installs missing libraries through apt"
	@echo "make demo       judges a sample logo and writes $(BUILD)/demo"
	@echo "make check      runs the tests;  make san  runs them with the sanitizers"
	@echo "make fuzz SECONDS=60  feeds each reader and the whole pipeline what clang's libFuzzer makes up"
	@echo "make quality    scores the program on pictures by others"
	@echo "make bench      times the program against libpng and stb_image, on pictures it draws"
	@echo "make samples    draws the sample logos anew"
	@echo "make install, uninstall    below PREFIX ($(PREFIX)), in DESTDIR if one is named"
	@echo "make dist       $(BUILD)/logocane-$(VERSION).tar.gz;  make deb  a Debian package beside it"
	@echo "make cov        which lines the tests reach;  make analyze, valgrind"
	@echo "make tidy, format, format-check, headers, clean"

$(BUILD)/logocane: $(OBJECTS)
	$(call SAY,link   )
	$(Q)$(CC) $(CFLAGS) $(ALL_LDFLAGS) -o $@ $^ $(DEPS_LIBS)

$(LIBRARY): $(filter-out $(BUILD)/app/main.o,$(OBJECTS))
	$(call SAY,archive)
	$(Q)rm -f $@ && ar rcsD $@ $^

$(BUILD)/%.o: src/%.c Makefile | need
	@mkdir -p $(@D)
	$(call SAY,compile)
	$(Q)$(CC) $(ALL_CFLAGS) -Isrc -c -o $@ $<

$(BUILD)/completion: docs/completion.c $(LIBRARY) | need
	$(call SAY,build  )
	$(Q)$(CC) $(ALL_CFLAGS) -MF $@.d -MT $@ -Isrc $(ALL_LDFLAGS) -o $@ $< $(LIBRARY) $(DEPS_LIBS)
$(COMPLETIONS): $(BUILD)/completion.%: $(BUILD)/completion
	@$< $* >$@.new && mv $@.new $@

# The stb files are other people's code: compiled without warnings, and with signed shifts that wrap, which they lean on.
$(BUILD)/read/stb_%.o $(BUILD)/write/stb_%.o: WARN = -w -fwrapv

# Functions that a test puts its own in place of: those of ours that call them get __wrap_NAME.
comma = ,
WRAP_folder = renameat2
WRAP_memory = malloc calloc realloc free draw_face piece_surface_new scene_render canvas_open
WRAP_killed = draw_face draw_mockup draw_size draw_check

$(BUILD)/test_%: tests/test_%.c $(LIBRARY) | need-test
	@mkdir -p $(@D)
	$(call SAY,build  )
	$(Q)$(CC) $(ALL_CFLAGS) -MF $@.d -MT $@ $(TEST_CFLAGS) -Isrc $(ALL_LDFLAGS) $(addprefix -Wl$(comma)--wrap=,$(WRAP_$*)) -o $@ $< $(LIBRARY) $(DEPS_LIBS) $(TEST_LIBS)

# A fuzz harness that runs over the files named to it.
$(BUILD)/replay_%: tests/fuzz_%.c tests/replay.c $(LIBRARY) | need
	@mkdir -p $(@D)
	$(call SAY,build  )
	$(Q)$(CC) $(ALL_CFLAGS) -MF $@.d -MT $@ -Isrc $(ALL_LDFLAGS) -o $@ $< tests/replay.c $(LIBRARY) $(DEPS_LIBS)

# --- what is missing --------------------------------------------------------------------------------------------
need:
	@command -v $(CC) >/dev/null && pkg-config --exists $(LIBS) 2>/dev/null && [ -e /usr/include/stb/stb_image.h ] || $(MAKE) --no-print-directory setup-build
# After `need`: two package installs at once would lock each other out.
need-test: | need
	@pkg-config --exists cmocka lcms2 lept 2>/dev/null && command -v pdftotext mandoc >/dev/null && /usr/bin/python3 -c 'import jsonschema' 2>/dev/null || $(MAKE) --no-print-directory setup
need-deb:
	@command -v dpkg-shlibdeps >/dev/null || $(MAKE) --no-print-directory setup-deb
need-clang: | need
	@command -v clang clang-format clang-tidy >/dev/null || $(MAKE) --no-print-directory setup-clang

setup-build:
	@sh tests/setup.sh $(PACKAGES)
setup:
	@sh tests/setup.sh $(PACKAGES) $(TEST_PACKAGES)
setup-deb:
	@sh tests/setup.sh $(DEB_PACKAGES)
setup-clang:
	@sh tests/setup.sh $(CLANG_PACKAGES)

check: all $(TESTS) $(REPLAYS)
	@BUILD=$(BUILD) FORTIFY='$(FORTIFY)' sh tests/run.sh $(TESTS)

# The sample logos are drawn by a program of their own; its pictures are committed.
samples: $(BUILD)/draw_samples
	$(BUILD)/draw_samples samples

$(BUILD)/draw_samples: samples/draw.c Makefile | need
	@mkdir -p $(@D)
	$(call SAY,build  )
	$(Q)$(CC) $(ALL_CFLAGS) -MF $@.d -MT $@ $(ALL_LDFLAGS) -o $@ $< $(DEPS_LIBS)

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
	$(call SAY,link   )
	$(Q)$(CC) $(CFLAGS) $(ALL_LDFLAGS) -o $@ $(QUALITY) $(LIBRARY) $(DEPS_LIBS)

$(QUALITY): $(BUILD)/%.o: tests/%.c Makefile | need
	@mkdir -p $(@D)
	$(call SAY,compile)
	$(Q)$(CC) $(ALL_CFLAGS) -Isrc -c -o $@ $<

# --- installing -------------------------------------------------------------------------------------------------
# What is installed: FILE:PLACE, the place below PREFIX. The documents keep their folders, so that their links hold.
ZSHDIR ?= share/zsh/site-functions
DOCDIR = share/doc/logocane
DOCUMENTS = README.md DEVELOPERS.md LICENSE samples/README.md \
            $(wildcard docs/*.md docs/*.png docs/*.jpg docs/*.json samples/*.png samples/*.jpg samples/*.ini)
INSTALLED = $(BUILD)/logocane:bin/logocane docs/logocane.1:share/man/man1/logocane.1 \
            $(BUILD)/completion.bash:share/bash-completion/completions/logocane \
            $(BUILD)/completion.zsh:$(ZSHDIR)/_logocane $(foreach file,$(DOCUMENTS),$(file):$(DOCDIR)/$(file))

# Those that installing may have made: they go again if nothing else is in them.
FOLDERS = $(DOCDIR)/docs $(DOCDIR)/samples $(DOCDIR) share/doc share/man/man1 $(ZSHDIR) $(patsubst %/,%,$(dir $(ZSHDIR))) \
          share/bash-completion/completions share/bash-completion

install: all
	@for pair in $(INSTALLED); do \
	  case $$pair in *:bin/*) mode=755 ;; *) mode=644 ;; esac; \
	  install -D -m $$mode "$${pair%%:*}" "$(DESTDIR)$(PREFIX)/$${pair#*:}" || exit 1; \
	done; echo "logocane $(VERSION) is $(DESTDIR)$(PREFIX)/bin/logocane"

uninstall:
	@for pair in $(INSTALLED); do rm -f "$(DESTDIR)$(PREFIX)/$${pair#*:}" || exit 1; done
	@for folder in $(FOLDERS); do rmdir "$(DESTDIR)$(PREFIX)/$$folder" 2>/dev/null || :; done

# The files that git knows, or, unpacked without git, all that are there; the same bytes from both.
TOP = README.md DEVELOPERS.md LICENSE Makefile src tests samples docs .ci .clang-format .clang-tidy .gitignore
EPOCH = $${SOURCE_DATE_EPOCH:-$$(git log -1 --format=%ct 2>/dev/null || stat -c %Y README.md)}
dist:
	@mkdir -p $(BUILD)
	@{ [ -e .git ] && git ls-files $(TOP) || find $(TOP) -type f; } | LC_ALL=C sort >$(BUILD)/dist.list
	@tar --no-recursion --files-from=$(BUILD)/dist.list --transform='s,^,logocane-$(VERSION)/,' --format=ustar \
	  --mode=u+rw,go+r,go-w --owner=root:0 --group=root:0 --mtime=@$(EPOCH) -cf - | gzip -9n >$(BUILD)/dist.new
	@mv $(BUILD)/dist.new $(BUILD)/logocane-$(VERSION).tar.gz; echo "$(BUILD)/logocane-$(VERSION).tar.gz"

deb: all | need-deb
	@rm -rf $(BUILD)/deb
	@$(MAKE) --no-print-directory install DESTDIR=$(BUILD)/deb/root PREFIX=/usr ZSHDIR=share/zsh/vendor-completions >/dev/null
	@SOURCE_DATE_EPOCH=$(EPOCH) sh .ci/deb $(BUILD)/deb $(VERSION) $(BUILD)

# How fast the program is: tests/bench.c. The pictures are drawn once.
ROUNDS ?= 11
BENCH = $(addprefix $(BUILD)/,bench bench_draw bench_decode bench_lay_up)
BENCH_PICTURES = $(BUILD)/bench-pictures/drawn
bench: $(BUILD)/logocane $(BENCH) $(BENCH_PICTURES)
	$(BUILD)/bench $(BUILD) $(ROUNDS)

$(BENCH_PICTURES): $(BUILD)/bench_draw
	@mkdir -p $(@D)
	$(BUILD)/bench_draw $(@D) && touch $@

# It holds stb_image, other people's code.
$(BUILD)/bench_decode: WARN = -w -fwrapv
$(BENCH): $(BUILD)/%: tests/%.c $(LIBRARY) Makefile | need
	$(CC) $(ALL_CFLAGS) -MF $@.d -MT $@ -Isrc $(ALL_LDFLAGS) -o $@ $< $(LIBRARY) $(DEPS_LIBS)

# --- checks beyond `make check` ---------------------------------------------------------------------------------
SANITIZE = -fsanitize=address,undefined
san:
	@FEW=1 LSAN_OPTIONS=suppressions=$(CURDIR)/tests/lsan.supp:print_suppressions=0 ASAN_OPTIONS=detect_leaks=1 UBSAN_OPTIONS=print_stacktrace=1 $(MAKE) --no-print-directory check BUILD=$(BUILD)/san \
	  CFLAGS='-O2 -g $(SANITIZE) -fno-sanitize-recover=all -fno-omit-frame-pointer' LDFLAGS='$(SANITIZE)'

# Each harness for so many seconds, from tests/seeds and what earlier runs found: make fuzz SECONDS=60 HARNESS="png stb"
SECONDS = 60
HARNESS = $(HARNESSES)
FUZZ_CFLAGS = -O2 -g -fsanitize=fuzzer-no-link,address,undefined -fno-sanitize=null,alignment,object-size \
              -fno-sanitize-recover=all -fno-omit-frame-pointer
fuzz: | need need-clang
	@$(MAKE) --no-print-directory BUILD=$(BUILD)/fuzz CC=clang CFLAGS='$(FUZZ_CFLAGS)' $(HARNESS:%=$(BUILD)/fuzz/fuzz_%)
	@BUILD=$(BUILD)/fuzz sh tests/fuzz.sh $(SECONDS) $(HARNESS)

$(BUILD)/fuzz_%: tests/fuzz_%.c $(LIBRARY) | need
	@mkdir -p $(@D)
	$(call SAY,build  )
	$(Q)$(CC) $(ALL_CFLAGS) -MF $@.d -MT $@ -Isrc $(ALL_LDFLAGS) -fsanitize=fuzzer,address,undefined -o $@ $< $(LIBRARY) $(DEPS_LIBS)

# Which lines of src/ the tests reach; what they cannot is in tests/unreached.txt.
cov:
	@rm -f $(BUILD)/cov/*.gcda
	@LOGOCANE_FAULTS=many $(MAKE) --no-print-directory check BUILD=$(BUILD)/cov CC=gcc CFLAGS='-O1 -g --coverage -DCOUNT_LINES' LDFLAGS=--coverage
	@sh tests/cov.sh $(BUILD)/cov

# The compiler's own analyser. It does not see that a loop which fills an array and the next, which reads it, run
# alike: what it says of that in these three files is wrong (looked at one by one; valgrind finds nothing either).
ANALYZE_plan/match_candy = -Wno-analyzer-use-of-uninitialized-value
ANALYZE_draw/scatter = $(ANALYZE_plan/match_candy)
ANALYZE_plan/slicing = $(ANALYZE_plan/match_candy)
OUR_SOURCES = $(foreach file,$(SOURCES),$(if $(findstring /stb_,$(file)),,$(file)))
ANALYZED = $(patsubst src/%.c,analyze-%,$(OUR_SOURCES))
analyze: $(ANALYZED)
	@echo "gcc -fanalyzer finds nothing"
$(ANALYZED): analyze-%: | need
	@gcc $(STD) $(DEPS_CFLAGS) -Isrc -O1 -fanalyzer -Werror $(ANALYZE_$*) -c -o /dev/null src/$*.c

# The demo, slowly, with each access to memory looked at.
valgrind: $(BUILD)/logocane
	@sh tests/setup.sh valgrind
	valgrind -q --error-exitcode=99 --leak-check=full --errors-for-leak-kinds=definite,indirect --suppressions=tests/valgrind.supp \
	  $(BUILD)/logocane -q --force -o $(BUILD)/demo $(DEMO) || [ $$? = 1 ]

OUR_FILES = $(OUR_SOURCES) $(wildcard src/*/*.h tests/*.[ch] samples/*.c docs/*.c)
tidy: | need need-clang
	clang-tidy --quiet $(OUR_SOURCES) -- $(STD) $(DEPS_CFLAGS) -Isrc
format: | need-clang
	clang-format -i $(OUR_FILES)
format-check: | need-clang
	@clang-format --dry-run -Werror $(OUR_FILES) && echo "the format is clean"

headers:
	@for h in src/*/*.h; do $(CC) $(STD) $(WARN) $(DEPS_CFLAGS) -Isrc -fsyntax-only -x c $$h || exit 1; done; echo "every header compiles alone"

clean:
	rm -rf $(BUILD)

-include $(OBJECTS:.o=.d) $(QUALITY:.o=.d) $(addsuffix .d,$(TESTS) $(REPLAYS) $(HARNESSES:%=$(BUILD)/fuzz_%) $(BUILD)/draw_samples $(BUILD)/completion)
.PHONY: all help install uninstall dist deb setup setup-build setup-clang setup-deb need need-test need-clang need-deb check samples demo quality bench san fuzz cov analyze $(ANALYZED) valgrind tidy format \
        format-check headers clean
