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

# Debian packages: to build; for the tests besides; and what `make setup-NAME` installs for single targets.
PACKAGES_build = gcc libc6-dev make pkg-config libpng-dev zlib1g-dev libjpeg-dev libstb-dev libcairo2-dev libpango1.0-dev libcjson-dev \
                 libmicrohttpd-dev libzip-dev libseccomp-dev fonts-dejavu-core
PACKAGES_tests = libcmocka-dev libgeos-dev liblcms2-dev libleptonica-dev poppler-utils mandoc python3-jsonschema
PACKAGES_deb = dpkg-dev fonts-dejavu-core
PACKAGES_clang = clang clang-format clang-tidy libclang-rt-dev
# npm may be another's than Debian's.
PACKAGES_browser = chromium chromium-driver python3 $(shell command -v npm >/dev/null || echo npm)
PACKAGES_quality = openclipart-png
PACKAGES_valgrind = valgrind

# Whole numbers have their names as enum constants, which are ints: clang 19 would warn wherever one meets a double.
WARN = -Wall -Wextra -Wshadow -Wconversion -Wno-sign-conversion -Wdouble-promotion -Wstrict-prototypes \
       -Wmissing-prototypes -Wvla -Wwrite-strings -Wcast-qual -Wformat=2 -Wundef -Wno-enum-float-conversion $(WERROR)
STD = -std=c11 -pedantic -D_GNU_SOURCE -ffp-contract=off
# Fortified only where it works: it needs optimisation, and the sanitizers bring checks of their own.
FORTIFY = $(if $(and $(filter -O1 -O2 -O3 -Os,$(CFLAGS)),$(if $(findstring -fsanitize,$(CFLAGS)),,yes)),-U_FORTIFY_SOURCE -D_FORTIFY_SOURCE=2)
HARDEN = $(FORTIFY) -fstack-protector-strong -fPIE
LIBS = libpng zlib libjpeg pangocairo cairo fontconfig libcjson libmicrohttpd libzip libseccomp
TEST_PKGS = cmocka geos lcms2 lept
# pkg-config is asked when the first recipe wants to know, since `make check` may install what it is asked for; and once:
# so only recipes behind need-test may ask for TEST_CFLAGS and TEST_LIBS.
once = $(eval $(1) := $(2))$($(1))
DEPS_CFLAGS = $(call once,DEPS_CFLAGS,$(subst -I,-isystem ,$(shell pkg-config --cflags $(LIBS) 2>/dev/null)) -isystem /usr/include/stb)
DEPS_LIBS = $(call once,DEPS_LIBS,$(shell pkg-config --libs $(LIBS) 2>/dev/null) -lm)
TEST_CFLAGS = $(call once,TEST_CFLAGS,$(subst -I,-isystem ,$(shell pkg-config --cflags $(TEST_PKGS) 2>/dev/null)))
TEST_LIBS = $(call once,TEST_LIBS,$(shell pkg-config --libs $(TEST_PKGS) 2>/dev/null))
COMPILE = $(CC) $(STD) $(WARN) $(HARDEN) $(DEPS_CFLAGS) -MMD -MP -Isrc
# No build id: it would differ from folder to folder, and to strip it from the package loses relro.
LINKED = -pie -Wl,-z,relro,-z,now,--build-id=none $(LDFLAGS)
LINK = $(CC) $(CFLAGS) $(LINKED)

SOURCES = $(wildcard src/*/*.c)
OBJECTS = $(SOURCES:src/%.c=$(BUILD)/%.o) $(BUILD)/page/assets.o
LIBRARY = $(BUILD)/liblogocane.a
COMPLETIONS = $(BUILD)/completion.bash $(BUILD)/completion.zsh

all: $(BUILD)/logocane $(COMPLETIONS)

help:
	@echo "make            builds $(BUILD)/logocane, or says what is missing for it;  make setup  installs that through apt"
	@echo "make demo       judges a sample logo and writes $(BUILD)/demo"
	@echo "make check      runs the tests;  make san  runs them with the sanitizers"
	@echo "                (demo and the tests install what they miss, as make setup does; nothing else does)"
	@echo "make browser    tries the page in chromium; its pictures go to $(BUILD)/browser"
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
	$(Q)$(LINK) -o $@ $^ $(DEPS_LIBS)

$(LIBRARY): $(filter-out $(BUILD)/app/main.o,$(OBJECTS))
	$(call SAY,archive)
	$(Q)rm -f $@ && ar rcsD $@ $^

$(BUILD)/%.o: src/%.c Makefile | need
	@mkdir -p $(@D)
	$(call SAY,compile)
	$(Q)$(COMPILE) $(CFLAGS) -c -o $@ $<

$(BUILD)/completion: docs/completion.c $(LIBRARY) | need
	$(call SAY,build  )
	$(Q)$(COMPILE) $(CFLAGS) -MF $@.d -MT $@ $(LINKED) -o $@ $< $(LIBRARY) $(DEPS_LIBS)
$(COMPLETIONS): $(BUILD)/completion.%: $(BUILD)/completion
	@$< $* >$@.new && mv $@.new $@

# The files of the page become arrays of bytes: PATH:TYPE, the HTML first.
ASSETS = page.html:text/html page.css:text/css page.js:text/javascript icon.svg:image/svg+xml
# The script's parts follow each other in the order of their names.
$(BUILD)/page/page.js: $(sort $(wildcard src/page/script/*.js))
	@mkdir -p $(@D) && cat $^ >$@
ASSET_FILES = $(foreach pair,$(ASSETS),$(if $(filter page.js:%,$(pair)),$(BUILD),src)/page/$(firstword $(subst :, ,$(pair))))
$(BUILD)/page/assets.c: $(ASSET_FILES) Makefile
	@mkdir -p $(@D)
	@{ echo '#include "page/server.h"'; \
	   for file in $(ASSET_FILES); do \
	     echo "static const unsigned char $$(basename $$file | tr . _)[] = {"; od -An -v -tu1 $$file | sed 's/[0-9][0-9]*/&,/g'; echo '};'; \
	   done; \
	   echo 'const PageAsset page_assets[] = {'; \
	   for pair in $(ASSETS); do \
	     name=$$(echo $${pair%%:*} | tr . _); echo "{\"/$${pair%%:*}\", \"$${pair#*:}; charset=utf-8\", $$name, sizeof $$name},"; \
	   done; \
	   echo '{0}};'; } >$@.new && mv $@.new $@
$(BUILD)/page/assets.o: $(BUILD)/page/assets.c
	$(call SAY,compile)
	$(Q)$(COMPILE) $(CFLAGS) -c -o $@ $<

# The stb files are other people's code: compiled without warnings, and with signed shifts that wrap, which they lean on.
$(BUILD)/read/stb_%.o $(BUILD)/write/stb_%.o: WARN = -w -fwrapv

# --- the tests --------------------------------------------------------------------------------------------------
# Each file of tests/ is compiled once. Most tests are linked into one program, which runs the one that is named to it:
# $(BUILD)/runner judge. `make $(BUILD)/test_judge` makes a program of one alone.
OF_TESTS = $(patsubst tests/%.c,$(BUILD)/tests/%.o,$(wildcard tests/*.c))
TESTS = $(patsubst tests/test_%.c,%,$(wildcard tests/test_*.c))
HARNESSES = $(patsubst tests/fuzz_%.c,%,$(wildcard tests/fuzz_*.c))

# Functions that a test puts its own in place of: those of ours that call them get __wrap_NAME. So it needs a program.
comma = ,
WRAP_folder = renameat2
WRAP_memory = malloc calloc realloc free draw_face piece_surface_new scene_render canvas_open
WRAP_killed = draw_face draw_mockup draw_size draw_check draw_bench
ALONE = folder memory killed
TOGETHER = $(filter-out $(ALONE),$(TESTS))

# At -O1: compiling a test takes longer than what it runs of its own.
$(OF_TESTS): $(BUILD)/tests/%.o: tests/%.c Makefile | need
	@mkdir -p $(@D)
	$(call SAY,compile)
	$(Q)$(COMPILE) $(if $(filter test_%,$*),$(TEST_CFLAGS)) $(patsubst -O2,-O1,$(CFLAGS:-O3=-O1)) $(DEFINES) -c -o $@ $<
	$(Q)$(if $(filter test_% fuzz_%,$*),objcopy --redefine-sym $(if $(filter test_%,$*),main,LLVMFuzzerTestOneInput)=$* $@)
$(filter $(BUILD)/tests/test_%,$(OF_TESTS)): | need-test

$(BUILD)/tests/runner.o: DEFINES = '-DTESTS=$(patsubst %,TEST(%),$(TOGETHER))'
$(BUILD)/tests/runner.o: $(TOGETHER:%=tests/test_%.c)
$(BUILD)/runner: $(BUILD)/tests/runner.o $(TOGETHER:%=$(BUILD)/tests/test_%.o) $(LIBRARY)
	$(call SAY,link   )
	$(Q)$(LINK) -o $@ $^ $(DEPS_LIBS) $(TEST_LIBS)

$(BUILD)/test_%: $(BUILD)/tests/test_%.o $(LIBRARY)
	$(call SAY,link   )
	$(Q)$(LINK) -Wl,--defsym=main=test_$* $(addprefix -Wl$(comma)--wrap=,$(WRAP_$*)) -o $@ $^ $(DEPS_LIBS) $(TEST_LIBS)

# The fuzz harnesses, run over the files named: $(BUILD)/replay png FILE...
$(BUILD)/tests/replay.o: DEFINES = '-DHARNESSES=$(patsubst %,HARNESS(%),$(HARNESSES))'
$(BUILD)/tests/replay.o: $(HARNESSES:%=tests/fuzz_%.c)
$(BUILD)/replay: $(BUILD)/tests/replay.o $(HARNESSES:%=$(BUILD)/tests/fuzz_%.o) $(LIBRARY)
	$(call SAY,link   )
	$(Q)$(LINK) -o $@ $^ $(DEPS_LIBS)

check: all $(BUILD)/runner $(BUILD)/replay $(ALONE:%=$(BUILD)/test_%)
	@BUILD=$(BUILD) FORTIFY='$(FORTIFY)' sh tests/run.sh $(ALONE:%=$(BUILD)/test_%) $(TOGETHER:%='$(BUILD)/runner %')

# --- what is missing --------------------------------------------------------------------------------------------
# What a target needs and is not there is said, with the command that installs it; `make demo` and `make check` install it.
MISSING = say
demo check: MISSING = install
need:
	@command -v $(CC) >/dev/null && pkg-config --exists $(LIBS) 2>/dev/null && [ -e /usr/include/stb/stb_image.h ] || \
	  sh tests/setup.sh $(MISSING) setup $(PACKAGES_build)
# After `need`: two package installs at once would lock each other out.
need-test: | need
	@pkg-config --exists $(TEST_PKGS) 2>/dev/null && type pdftotext mandoc >/dev/null 2>&1 && /usr/bin/python3 -c 'import jsonschema' 2>/dev/null || \
	  sh tests/setup.sh $(MISSING) setup $(PACKAGES_tests)
need-deb:
	@type dpkg-shlibdeps >/dev/null 2>&1 || sh tests/setup.sh say setup-deb $(PACKAGES_deb)
need-clang:
	@type clang clang-format clang-tidy >/dev/null 2>&1 || sh tests/setup.sh say setup-clang $(PACKAGES_clang)
need-quality:
	@[ -d /usr/share/openclipart/png ] || sh tests/setup.sh say setup-quality $(PACKAGES_quality)
need-browser:
	@type chromium chromedriver npm python3 >/dev/null 2>&1 || sh tests/setup.sh say setup-browser $(PACKAGES_browser)
need-valgrind:
	@type valgrind >/dev/null 2>&1 || sh tests/setup.sh say setup-valgrind $(PACKAGES_valgrind)

setup:
	@sh tests/setup.sh install setup $(PACKAGES_build) $(PACKAGES_tests)
setup-deb setup-clang setup-browser setup-quality setup-valgrind: setup-%:
	@sh tests/setup.sh install $@ $(PACKAGES_$*)

# --- the page in a real browser ---------------------------------------------------------------------------------
# axe-core, the rules of accessibility, comes from npm: package-lock.json names its version and the sum of its bytes.
AXE = $(BUILD)/browser/node_modules/axe-core/axe.min.js
$(AXE): tests/browser/package.json tests/browser/package-lock.json | need-browser
	@mkdir -p $(BUILD)/browser && cp $^ $(BUILD)/browser
	$(Q)cd $(BUILD)/browser && npm ci --ignore-scripts --no-audit --no-fund --loglevel=error && touch $(abspath $@)
browser: $(BUILD)/logocane | need-browser
	@[ -e $(AXE) ] || $(MAKE) --no-print-directory $(AXE) || echo "axe-core cannot be fetched from npm: ACCESSIBILITY IS NOT CHECKED"
	$(Q)PYTHONDONTWRITEBYTECODE=1 python3 tests/browser/page_test.py $(BUILD)/logocane $(BUILD)/browser
	$(Q)PYTHONDONTWRITEBYTECODE=1 python3 tests/browser/page_load.py $(BUILD)/logocane 200

# --- samples, the demo, pictures by others ----------------------------------------------------------------------
# The sample logos are drawn by a program of their own; its pictures are committed.
samples: $(BUILD)/draw_samples
	$(BUILD)/draw_samples samples

$(BUILD)/draw_samples: samples/draw.c Makefile | need
	@mkdir -p $(@D)
	$(call SAY,build  )
	$(Q)$(COMPILE) $(CFLAGS) -MF $@.d -MT $@ $(LINKED) -o $@ $< $(DEPS_LIBS)

# One sample judged and written to build/demo; a verdict of "no" (status 1) is no failure of the demo.
demo: $(BUILD)/logocane
	$(BUILD)/logocane --force -o $(BUILD)/demo $(DEMO) || [ $$? = 1 ]
	@echo; echo "the job folder is $(BUILD)/demo:"; ls $(BUILD)/demo

# How well the program does on pictures by others; writes $(BUILD)/quality.csv and contact sheets quality-1.png ...
quality: $(BUILD)/quality | need-quality
	$(BUILD)/quality tests/quality-set.txt /usr/share/openclipart/png $(BUILD)

$(BUILD)/quality: $(BUILD)/tests/quality.o $(BUILD)/tests/quality_sheet.o $(LIBRARY)
	$(call SAY,link   )
	$(Q)$(LINK) -o $@ $^ $(DEPS_LIBS)

# The pictures of tests/framing_logos.h, to look at: $(BUILD)/draw_framing FOLDER.
$(BUILD)/draw_framing: $(BUILD)/tests/draw_framing.o $(LIBRARY)
	$(call SAY,link   )
	$(Q)$(LINK) -o $@ $^ $(DEPS_LIBS)

# Word marks and monograms, likewise: $(BUILD)/draw_letters FOLDER.
$(BUILD)/draw_letters: $(BUILD)/tests/draw_letters.o $(LIBRARY)
	$(call SAY,link   )
	$(Q)$(LINK) -o $@ $^ $(DEPS_LIBS)

# --- installing -------------------------------------------------------------------------------------------------
# What is installed: FILE:PLACE, the place below PREFIX. The documents keep their folders, so that their links hold.
ZSHDIR ?= share/zsh/site-functions
DOCDIR = share/doc/logocane
DOCUMENTS = README.md DEVELOPERS.md LICENSE samples/README.md \
            $(wildcard docs/*.md docs/*.png docs/*.jpg docs/*.json samples/*.png samples/*.jpg samples/*.ini)
INSTALLED = $(BUILD)/logocane:bin/logocane docs/logocane.1:share/man/man1/logocane.1 \
            $(BUILD)/completion.bash:share/bash-completion/completions/logocane \
            $(BUILD)/completion.zsh:$(ZSHDIR)/_logocane src/page/icon.svg:share/icons/hicolor/scalable/apps/logocane.svg $(foreach file,$(DOCUMENTS),$(file):$(DOCDIR)/$(file))

# For those who do not live in a terminal: an entry of the desktop's menu, the unit that runs the page, what opens it. They
# name the program's place.
STARTERS = src/page/logocane.desktop:share/applications/logocane.desktop \
           src/page/logocane-page.service:lib/systemd/user/logocane-page.service src/page/open-page.sh:libexec/logocane/open-page

# Those that installing may have made: they go again if nothing else is in them.
FOLDERS = share/icons/hicolor/scalable/apps share/icons/hicolor/scalable share/icons/hicolor share/icons libexec/logocane libexec \
          lib/systemd/user lib/systemd lib share/applications $(DOCDIR)/docs $(DOCDIR)/samples $(DOCDIR) share/doc share/man/man1 \
          $(ZSHDIR) $(patsubst %/,%,$(dir $(ZSHDIR))) share/bash-completion/completions share/bash-completion

install: all
	@for pair in $(INSTALLED); do \
	  case $$pair in *:bin/*) mode=755 ;; *) mode=644 ;; esac; \
	  install -D -m $$mode "$${pair%%:*}" "$(DESTDIR)$(PREFIX)/$${pair#*:}" || exit 1; \
	done
	@for pair in $(STARTERS); do \
	  case $$pair in *:libexec/*) mode=755 ;; *) mode=644 ;; esac; to="$(DESTDIR)$(PREFIX)/$${pair#*:}"; \
	  install -d "$${to%/*}" && sed 's,@BIN@,$(PREFIX)/bin,; s,@LIBEXEC@,$(PREFIX)/libexec/logocane,' "$${pair%%:*}" >"$$to" && \
	  chmod $$mode "$$to" || exit 1; \
	done; echo "logocane $(VERSION) is $(DESTDIR)$(PREFIX)/bin/logocane"

uninstall:
	@for pair in $(INSTALLED) $(STARTERS); do rm -f "$(DESTDIR)$(PREFIX)/$${pair#*:}" || exit 1; done
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

# How fast the program is: tests/bench_all.c. The pictures are drawn once.
ROUNDS ?= 11
BENCH = $(addprefix $(BUILD)/,bench_all bench_draw bench_decode bench_lay_up)
BENCH_PICTURES = $(BUILD)/bench-pictures/drawn
bench: $(BUILD)/logocane $(BENCH) $(BENCH_PICTURES)
	$(BUILD)/bench_all $(BUILD) $(ROUNDS)

$(BENCH_PICTURES): $(BUILD)/bench_draw
	@mkdir -p $(@D)
	$(BUILD)/bench_draw $(@D) && touch $@

# It holds stb_image, other people's code, and is measured against it.
$(BUILD)/tests/bench_decode.o: WARN = -w -fwrapv
$(BUILD)/tests/bench_decode.o: DEFINES = $(CFLAGS)
$(BENCH): $(BUILD)/%: $(BUILD)/tests/%.o $(LIBRARY)
	$(call SAY,link   )
	$(Q)$(LINK) -o $@ $^ $(DEPS_LIBS)

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

$(BUILD)/fuzz_%: $(BUILD)/tests/fuzz_%.o $(LIBRARY)
	$(call SAY,link   )
	$(Q)$(LINK) -fsanitize=fuzzer,address,undefined -Wl,--defsym=LLVMFuzzerTestOneInput=fuzz_$* -o $@ $^ $(DEPS_LIBS)

# Which lines of src/ the tests reach; what they cannot is in tests/unreached.txt. Told even where a test failed: counts
# that cannot be written are none of its business, and go to /dev/null with what is said of them.
cov:
	@mkdir -p $(BUILD)/cov && find $(BUILD)/cov -name '*.gcda' -delete
	@GCOV_ERROR_FILE=/dev/null LOGOCANE_FAULTS=most $(MAKE) --no-print-directory check BUILD=$(BUILD)/cov CC=gcc \
	    CFLAGS='-O1 -g --coverage -DCOUNT_LINES' LDFLAGS=--coverage || failed=1; \
	sh tests/cov.sh $(BUILD)/cov && [ -z "$$failed" ]

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
valgrind: $(BUILD)/logocane | need-valgrind
	valgrind -q --error-exitcode=99 --leak-check=full --errors-for-leak-kinds=definite,indirect --suppressions=tests/valgrind.supp \
	  $(BUILD)/logocane -q --force -o $(BUILD)/demo $(DEMO) || [ $$? = 1 ]

OUR_FILES = $(OUR_SOURCES) $(wildcard src/*/*.h tests/*.[ch] samples/*.c docs/*.c)
tidy: | need need-clang
	clang-tidy --quiet $(OUR_SOURCES) -- $(STD) $(DEPS_CFLAGS) -Isrc
format: | need-clang
	clang-format -i $(OUR_FILES)
format-check: | need-clang
	@clang-format --dry-run -Werror $(OUR_FILES) && echo "the format is clean"

headers: | need
	@for h in src/*/*.h; do $(CC) $(STD) $(WARN) $(DEPS_CFLAGS) -Isrc -fsyntax-only -x c $$h || exit 1; done; echo "every header compiles alone"

clean:
	rm -rf $(BUILD)

-include $(OBJECTS:.o=.d) $(OF_TESTS:.o=.d) $(addsuffix .d,$(BUILD)/draw_samples $(BUILD)/completion)
.DELETE_ON_ERROR:
.PHONY: all help install uninstall dist deb setup setup-deb setup-clang setup-browser setup-quality setup-valgrind need need-test need-deb \
        need-clang need-browser need-quality need-valgrind check browser samples demo quality bench san fuzz cov analyze $(ANALYZED) valgrind tidy format format-check \
        headers clean
