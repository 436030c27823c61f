# SPDX-License-Identifier: MIT
# `make help` lists the targets.  Objects go to $(BUILD); files are found by wildcard, so a new one needs no edit.
BUILD   ?= build
# Folders of domains.
STDLIB  ?= stdlib
CC      := $(if $(filter default,$(origin CC)),gcc,$(CC))
PREFIX  ?= /usr/local
CFLAGS  ?= -O2 -g
# What runs in every job is worth more, if nobody says otherwise: it saves a seventieth of a cold start.
FAST    := $(if $(filter file,$(origin CFLAGS)),-O3)
# Tests are built in a quarter of the time so, and take as long: what they call is not theirs.
TESTING := -O0 -U_FORTIFY_SOURCE
LDFLAGS ?=
SAN     ?=
# With gcc the command is optimised across its files, which saves a fortieth of a variant and a hundredth of a cold
# start; LTO= or LTO=0 leaves it.  What is linked file by file takes the plain code of the same objects.
# LDFLAGS=-static-pie saves a twentieth of a cold start, but such a command could never open a module; -no-pie,
# -fno-plt, --gc-sections and norelro save nothing.
PLAIN   := $(SAN)$(findstring clang,$(CC))
LTO     ?= $(if $(PLAIN),,1)
ifneq ($(and $(filter-out 0,$(LTO)),$(PLAIN)),)
  $(error LTO is for gcc without sanitizers: leave it out)
endif
# What makes a fault harder to exploit, by default: guards around the stack, checked copies, a program that stands
# anywhere and whose tables are read-only (interp/gen/hardening.sh).  HARDEN= or HARDEN=0 leaves it.
HARDEN  ?= 1
WARN    := -std=c11 -Wall -Wextra -Wpedantic -Wconversion -Werror
VERSION := 0.1.0
# V=1 shows the commands; -s says nothing.
Q        = $(if $(V),,@)
QUIET    = $(findstring s,$(firstword -$(MAKEFLAGS)))
say      = $(if $(V),,@$(if $(QUIET),:,echo '  $(1)  $@'))
# A shell finds every tool: make itself would take a folder on the PATH for the command of that name.
.SHELLFLAGS := -ce
.DEFAULT_GOAL := all
.DELETE_ON_ERROR:

LUA_CFLAGS  = $(shell pkg-config --cflags lua5.4)
LUA_ARCHIVE = $(shell pkg-config --variable=libdir lua5.4)/liblua5.4.a
OWN         = -D_POSIX_C_SOURCE=200809L -DSL_VERSION='"$(VERSION)"' \
              -Iinclude -Iinterp -Iinterp/calc -I$(BUILD)/gen $(LUA_CFLAGS)
# Asked for when a recipe first wants it, and then known.
hardened    = $(if $(filter-out 0,$(HARDEN)),$(shell interp/gen/hardening.sh '$(BUILD)/hardening' $(1) \
              $(CC) $(CPPFLAGS) $(CFLAGS) $(SAN) $(LDFLAGS)))
OBJECTS     = $(eval OBJECTS := $(call hardened,compile))$(OBJECTS)
PROGRAMS    = $(eval PROGRAMS := $(call hardened,link))$(PROGRAMS)
COMPILE     = $(CC) $(OWN) $(OBJECTS) $(CPPFLAGS) $(WARN) $(CFLAGS) $(SAN) -ffile-prefix-map=$(CURDIR)=. -MMD -MP
LINK        = $(CC) $(if $(filter -flto%,$(WHOLE)),$(OBJECTS)) $(CFLAGS) $(SAN) $(PROGRAMS) $(LDFLAGS)
# Of a source alone.
BOTH        = $(COMPILE) $(PROGRAMS) $(LDFLAGS)
# The banded Cholesky of frames (interp/solve): the plain archives, of which a program takes a few functions.
LAPACK      = $(shell pkg-config --variable=libdir lapack-netlib)/lapack/liblapack.a
BLAS        = $(shell pkg-config --variable=libdir blas-netlib)/blas/libblas.a
LIBS        = $(LAPACK) $(BLAS) $(LUA_ARCHIVE) -lm -ldl
# What sweeps are kept in: only the command links it, whole, so that no run waits for it to be found.
STORE       = $(shell pkg-config --variable=libdir sqlite3)/libsqlite3.a
# The filter of system calls for scripts of strangers, in the command alone.
FILTER      = $(shell pkg-config --variable=libdir libseccomp)/libseccomp.a
WHOLE       = $(if $(filter-out 0,$(LTO)),-flto=auto -ffat-lto-objects)
# An archive is of plain code: it would make the programs of others be optimised with it, by their flags.
ARCHIVE     = rm -f $@ && ar rcs $@.tmp $(filter %.o,$^) && $(if $(WHOLE),objcopy --wildcard \
              -R '.gnu.lto_*' -R '.gnu.debuglto_*' $@.tmp &&) mv $@.tmp $@

object   = $(patsubst %.c,$(BUILD)/%.o,$(wildcard $(1)))
# Adapters to libraries of numbers stand beside the primitives, in the same archive.
SOLVE   := $(call object,interp/solve/*.c)
CALC    := $(call object,interp/calc/*.c) $(SOLVE) $(BUILD)/gen/tables.o
ROOMS   := bind scan value box host model write command
BARE    := $(foreach room,$(ROOMS),$(call object,interp/$(room)/*.c)) \
           $(patsubst %.re,$(BUILD)/%.o,$(wildcard interp/scan/*.re)) $(BUILD)/gen/ops.o $(BUILD)/gen/library.o \
           $(BUILD)/gen/hashes.o
SWEEP   := $(call object,interp/sweep/*.c)
# Drawings, in the command alone; PDF and PNG in a module that it opens where one is wanted.
DRAW    := $(call object,interp/draw/*.c)
PAPER   := $(BUILD)/stringline-paper.so
FONT    := interp/draw/font/DejaVuSansCondensed.ttf
CONFINE := $(call object,interp/confine/*.c)
COMMAND := $(call object,interp/*.c)
HOST    := $(BARE) $(BUILD)/gen/index.o
OPS     := $(filter-out $(addprefix interp/bind/,bind.c fields.c give.c take.c),$(sort $(wildcard interp/bind/*.c)))
TABLES  := $(patsubst interp/data/%.csv,$(BUILD)/gen/%.inc,$(wildcard interp/data/*.csv))
DOMAINS := $(sort $(foreach folder,$(STDLIB),$(wildcard $(folder)/*/*.lua $(folder)/*/sheets/*.lua)))
# What `stringline new` writes is carried as it is.
LIBRARY := $(filter-out interp/gen/%,$(sort $(wildcard interp/*/*.lua interp/new/*.sline interp/new/*.csv))) $(DOMAINS)
FUZZ    := $(patsubst %.c,$(BUILD)/%,$(wildcard tests/fuzz/*_fuzz.c))
TESTS   := $(patsubst %.c,$(BUILD)/%,$(wildcard tests/*_test.c tests/outside/*_test.c))

.PHONY: always all tools test-tools demo check check-readers mutate cases bench docs fuzz install uninstall clean help \
        test-programs
all: $(BUILD)/gen/audited ## build the command and the libraries
all: $(PAPER) $(BUILD)/DejaVuSansCondensed.ttf
all: $(BUILD)/stringline $(BUILD)/libstringline.a $(BUILD)/libstringline_host.a

# ---- set-up --------------------------------------------------------------------------------------------------------
tools: ## install the packages that building needs
	@tests/setup.sh
test-tools: ## and those that testing needs besides
	@tests/setup.sh check

# Stamps that are touched only by a change: of the flags, which builds everything anew, and of the list of files.
$(BUILD)/flags: export STAMP = stringline is built with: $(subst $(BUILD)/,,$(COMPILE)) $(FAST) $(TESTING) | $(LINK) | \
  $(WHOLE) | $(LIBS)
$(BUILD)/files: export STAMP = $(CALC) $(HOST) $(SWEEP) $(CONFINE) $(DRAW) $(LIBRARY)
$(BUILD)/flags $(BUILD)/files: always
	@mkdir -p $(@D)
	@printf '%s\n' "$$STAMP" | cmp -s - $@ || printf '%s\n' "$$STAMP" > $@

$(BUILD)/gen/%.inc: interp/data/%.csv interp/gen/csv.awk interp/gen/rows.awk
	@mkdir -p $(@D)
	$(Q)LC_ALL=C awk -f interp/gen/csv.awk -f interp/gen/rows.awk $< > $@.tmp && mv $@.tmp $@
# Tables that declare themselves. The header changes only when a table's shape does.
$(BUILD)/gen/tables.c: $(wildcard interp/data/*.csv) $(BUILD)/files interp/gen/csv.awk interp/gen/tables.awk
	@mkdir -p $(@D)
	$(Q)LC_ALL=C awk -v to=$(@D) -f interp/gen/csv.awk -f interp/gen/tables.awk \
	  $(addprefix interp/data/,units.csv editions.csv citations.csv) \
	  $(filter-out %/units.csv %/editions.csv %/citations.csv,$(sort $(wildcard interp/data/*.csv)))
	@cmp -s $(@D)/tables.h.new $(@D)/tables.h && rm $(@D)/tables.h.new || mv $(@D)/tables.h.new $(@D)/tables.h
$(BUILD)/gen/tables.h: $(BUILD)/gen/tables.c ;
$(BUILD)/gen/%.c: interp/scan/%.re
	@mkdir -p $(@D)
	$(call say,re2c)
	$(Q)re2c -W -Werror --no-debug-info -o $@ $<
$(BUILD)/interp/scan/%.o: $(BUILD)/gen/%.c $(BUILD)/flags
	@mkdir -p $(@D)
	$(call say,compile)
	$(Q)$(COMPILE) $(QUICK) $(WHOLE) -c $< -o $@
$(BUILD)/%.o: %.c $(BUILD)/flags | $(TABLES) $(BUILD)/gen/tables.h
	@mkdir -p $(@D)
	$(call say,compile)
	$(Q)$(COMPILE) $(QUICK) $(WHOLE) -c $< -o $@
$(CALC) $(HOST) $(COMMAND): private QUICK = $(FAST)
$(BUILD)/tests/%_test.o: private QUICK = $(TESTING)
# Primitives, tests and what looks the library through are built and linked file by file.
$(CALC) $(BUILD)/gen/indexer $(BUILD)/gen/audit: private WHOLE = -fno-lto
$(BUILD)/tests/%: private WHOLE = -fno-lto

# The Lua part is compiled by the Lua that it will run in, and carried in the binary.
$(BUILD)/gen/embed: interp/gen/embed.c $(BUILD)/flags
	@mkdir -p $(@D)
	$(call say,compile)
	$(Q)$(BOTH) $< -o $@ $(LIBS)
$(BUILD)/gen/library.c: $(LIBRARY) $(BUILD)/files $(BUILD)/gen/embed
	$(call say,embed)
	$(Q)$(BUILD)/gen/embed $@ sl_library $(LIBRARY)
# What a report says it was made from: hashes over the tables and over the standard library.
$(BUILD)/gen/hashes: interp/gen/hashes.c interp/host/sha256.c $(BUILD)/flags
	@mkdir -p $(@D)
	$(call say,compile)
	$(Q)$(BOTH) $(filter %.c,$^) -o $@
$(BUILD)/gen/hashes.c: $(BUILD)/gen/hashes $(wildcard interp/data/*.csv) $(DOMAINS) $(BUILD)/files
	$(Q)$(BUILD)/gen/hashes $@ tables $(wildcard interp/data/*.csv) -- rules $(DOMAINS)
# Which domain brings which word, result, rule and sheet: found by running them.
$(BUILD)/gen/indexer: $(BUILD)/interp/gen/indexer.o $(BARE) $(BUILD)/libstringline.a $(BUILD)/flags $(BUILD)/files
	$(call say,link)
	$(Q)$(LINK) $(WHOLE) -o $@ $(filter %.o %.a,$^) $(LIBS)
$(BUILD)/gen/index.c: $(BUILD)/gen/indexer interp/gen/index.lua $(DOMAINS) $(BUILD)/files
	@mkdir -p $(BUILD)/gen/index
	$(call say,index)
	$(Q)$(BUILD)/gen/indexer interp/gen/index.lua $(BUILD)/gen/index $(DOMAINS)
	$(Q)$(BUILD)/gen/embed $@ sl_index $(BUILD)/gen/index/*.lua
$(BUILD)/gen/ops.c: $(OPS) $(BUILD)/files interp/gen/ops.awk
	$(Q)LC_ALL=C awk -f interp/gen/ops.awk $(OPS) > $@.tmp && mv $@.tmp $@
$(BUILD)/gen/library.o $(BUILD)/gen/hashes.o $(BUILD)/gen/index.o $(BUILD)/gen/ops.o \
$(BUILD)/gen/tables.o: %.o: %.c $(BUILD)/flags
	$(call say,compile)
	$(Q)$(COMPILE) $(QUICK) $(WHOLE) -c $< -o $@

$(BUILD)/libstringline.a: $(CALC) $(BUILD)/files
	$(call say,archive)
	$(Q)$(ARCHIVE)
# Scripts run from C: all but the command line, without Lua itself.
$(BUILD)/libstringline_host.a: $(HOST) $(BUILD)/files
	$(call say,archive)
	$(Q)$(ARCHIVE)
# Stores of sweeps, and the workers that fill them.
$(BUILD)/libstringline_sweep.a: $(SWEEP) $(BUILD)/files
	$(call say,archive)
	$(Q)$(ARCHIVE)
# The process of --untrusted.
$(BUILD)/libstringline_confine.a: $(CONFINE) $(BUILD)/files
	$(call say,archive)
	$(Q)$(ARCHIVE)
# What the Lua part defines is looked through when it is built.
$(BUILD)/gen/audit: $(BUILD)/interp/gen/audit.o $(BUILD)/libstringline_host.a $(BUILD)/libstringline.a
	$(call say,link)
	$(Q)$(LINK) $(WHOLE) -o $@ $^ $(LIBS)
$(BUILD)/gen/audited: $(BUILD)/gen/audit
	$(call say,audit)
	$(Q)$< && touch $@
# The letters of drawings.
$(BUILD)/gen/letters: interp/gen/letters.c $(BUILD)/flags
	@mkdir -p $(@D)
	$(call say,compile)
	$(Q)$(BOTH) $< -o $@
$(BUILD)/gen/letters.inc: $(BUILD)/gen/letters $(FONT)
	$(Q)$(BUILD)/gen/letters $(FONT) > $@.tmp && mv $@.tmp $@
$(BUILD)/interp/draw/letters.o: $(BUILD)/gen/letters.inc
$(BUILD)/libstringline_draw.a: $(DRAW) $(BUILD)/files
	$(call say,archive)
	$(Q)$(ARCHIVE)
# Of archives, where the system has them: to open cairo's shared library is to open X and a dozen others, which takes
# longer than a page.  What is theirs stays inside.  Other compilers, and sanitizers, take the shared ones.
PAPER_OF = $(addprefix $(shell pkg-config --variable=libdir cairo)/lib,$(addsuffix .a,cairo freetype fontconfig expat \
           png16 z brotlidec brotlicommon))
INSIDE   = -Wl,--gc-sections -Wl,--exclude-libs,ALL -Wl,-z,defs -Wl,--wrap=stdout -Wl,--wrap=stderr \
           -Wl,--wrap=snprintf -Wl,--wrap=__snprintf_chk -Wl,--wrap=deflateInit_ \
           -Wl,--start-group $(PAPER_OF) -Wl,--end-group
ARCHIVED = $(if $(PLAIN)$(filter-out $(wildcard $(PAPER_OF)),$(PAPER_OF)),,1)
MODULE   = $(COMPILE) -fPIC -shared -fvisibility=hidden $(filter-out -pie,$(PROGRAMS)) \
           $(shell pkg-config --cflags cairo-ft cairo-pdf) $(LDFLAGS) -o $@
$(PAPER): $(wildcard interp/paper/*.[ch]) interp/draw/drawing.h $(BUILD)/flags
	@mkdir -p $(@D)
	$(call say,link)
	$(Q)$(if $(ARCHIVED),$(MODULE) $(filter %.c,$^) $(INSIDE) -lpixman-1 -lm 2>$(BUILD)/archived || \
	  $(if $(QUIET),,echo '  of shared libraries, since the archives are not taken: $(BUILD)/archived';)) \
	  $(MODULE) interp/paper/paper.c $(shell pkg-config --libs cairo-ft cairo-pdf freetype2)
$(BUILD)/DejaVuSansCondensed.ttf: $(FONT)
	@mkdir -p $(@D)
	$(Q)cp $< $@
$(BUILD)/stringline: $(COMMAND) $(HOST) $(SWEEP) $(DRAW) $(CONFINE) $(BUILD)/libstringline.a $(BUILD)/flags \
                     $(BUILD)/files
	$(call say,link)
	$(Q)$(LINK) $(WHOLE) -o $@ $(filter %.o %.a,$^) $(STORE) $(FILTER) $(LIBS)

# ---- tests ---------------------------------------------------------------------------------------------------------
# A program takes from the archives what it calls.
$(BUILD)/tests/%: $(BUILD)/tests/%.o $(BUILD)/libstringline_sweep.a $(BUILD)/libstringline_confine.a \
                  $(BUILD)/libstringline_draw.a \
                  $(BUILD)/libstringline_host.a $(BUILD)/libstringline.a
	$(call say,link)
	$(Q)$(LINK) $(WHOLE) -o $@ $^ $(STORE) $(FILTER) $(LIBS) -lcmocka
# The whole command under a name of its own, and each of its requests for memory through the test.
ASKS    := malloc calloc realloc aligned_alloc strdup strndup mmap fopen opendir realpath open_memstream lua_newstate
$(BUILD)/tests/starved_main.o: interp/main.c $(BUILD)/flags
	@mkdir -p $(@D)
	$(call say,compile)
	$(Q)$(COMPILE) -Dmain=stringline_main -c $< -o $@
$(BUILD)/tests/starved_test: $(BUILD)/tests/starved_test.o $(BUILD)/tests/starved_main.o \
                             $(filter-out %/main.o,$(COMMAND)) $(BUILD)/libstringline_sweep.a \
                             $(BUILD)/libstringline_confine.a $(BUILD)/libstringline_draw.a \
                             $(BUILD)/libstringline_host.a $(BUILD)/libstringline.a
	$(call say,link)
	$(Q)$(LINK) $(WHOLE) $(ASKS:%=-Wl,--wrap=%) -o $@ $^ $(STORE) $(FILTER) $(LIBS) -lcmocka
# What is measured is linked as the command is.
$(BUILD)/tests/bench/bench: private WHOLE := $(WHOLE)
$(BUILD)/tests/bench/bench: $(BUILD)/tests/bench/bench.o $(HOST) $(SWEEP) $(BUILD)/libstringline.a
	$(call say,link)
	$(Q)$(LINK) $(WHOLE) -o $@ $^ $(STORE) $(LIBS)
$(BUILD)/tests/fixed_test: $(BUILD)/interp/paper/fixed.o
$(addprefix $(BUILD)/tests/,variants_test confine_test limits_test properties_test): | $(BUILD)/stringline
# A fuzz target is a program that tries the same inputs everywhere, or libFuzzer's, which goes on looking.
$(FUZZ): $(BUILD)/tests/fuzz/%: $(BUILD)/tests/fuzz/%.o $(BUILD)/tests/fuzz/runner.o $(BUILD)/tests/fuzz/mutator.o \
                            $(BUILD)/libstringline_sweep.a $(BUILD)/libstringline_draw.a \
                            $(BUILD)/libstringline_host.a $(BUILD)/libstringline.a
	$(call say,link)
	$(Q)$(LINK) $(WHOLE) -o $@ $(filter %.o,$^) $(filter %.a,$^) $(STORE) $(LIBS) -lcmocka
$(FUZZ:_fuzz=_libfuzzer): $(BUILD)/tests/fuzz/%_libfuzzer: $(BUILD)/tests/fuzz/%_fuzz.o \
                            $(BUILD)/libstringline_sweep.a $(BUILD)/libstringline_draw.a \
                            $(BUILD)/libstringline_host.a $(BUILD)/libstringline.a
	$(call say,link)
	$(Q)$(LINK) -fsanitize=fuzzer -o $@ $(filter %.o,$^) $(filter %.a,$^) $(STORE) $(LIBS) -lcmocka
# Jobs go through the command, and every error is looked at where it is raised.
JOBS_FUZZ = $(addprefix $(BUILD)/tests/fuzz/jobs_,fuzz libfuzzer)
$(JOBS_FUZZ): private LIBS += -Wl,--wrap=lua_pcallk,--wrap=sl_error_handler
$(JOBS_FUZZ): $(BUILD)/interp/task.o
test-programs: $(TESTS) $(FUZZ)

# As many processes as there are cores, unless make was told how many.
demo: tools ## set up, build, and judge the first whole job
	@echo 'building $(BUILD)/stringline: up to a minute'
	@$(MAKE) -s $(if $(findstring jobserver,$(MAKEFLAGS)),,-j"$$(getconf _NPROCESSORS_ONLN)") all
	@tests/demo.sh $(BUILD)/stringline
check: test-tools ## set up, build with gcc, clang and sanitizers, run every test
	@tests/run.sh
check-readers: tools ## have readers that are not ours read drawings and reports: DXF by two, HTML and SVG by a browser
	@tests/setup.sh readers
	@$(MAKE) --no-print-directory -s all
	@$${PYTHON:-/usr/bin/python3} tests/readers.py $(BUILD)/stringline
mutate: test-tools ## plant faults in tables, formulas, results, rules: who notices? writes docs/mutation.md (30 min)
	@tests/mutate/mutate.lua $(MUTATE)
cases: test-tools ## run the cases by value (FILE=)
	@$(MAKE) --no-print-directory $(BUILD)/tests/results_test
	@$(BUILD)/tests/results_test $(FILE)
bench: test-tools ## ratios: cold start (OLD=binary to compare), literals, a primitive, variants, many racks
	@$(MAKE) --no-print-directory all $(BUILD)/tests/bench/bench
	@$(BUILD)/tests/bench/bench $(BUILD)/stringline $(OLD)
	@tests/bench/plain.lua
	@command -v /usr/bin/python3 >/dev/null || echo 'six formulas in Python with units: left out, there is no python3'; \
	 ! command -v /usr/bin/python3 >/dev/null || tests/bench/plain.py
fuzz: test-tools ## look for inputs that break a law, all targets together for MINUTES=5 (TARGETS=; clang)
	@tests/fuzz/run.sh $(or $(MINUTES),5) $(TARGETS)

# The page of a sweep, judged anew.
answer = rm -f $(BUILD)/answer.sweep* && \
         $(BUILD)/stringline sweep examples/$(1) --store $(BUILD)/answer.sweep -o examples/$(2)
docs: all ## write the reference, the methods, what was checked and the report anew
	$(BUILD)/stringline run examples/egg-farm/job.sline -o examples/egg-farm/report.txt
	$(call answer,egg-farm/choose.sline --set job.stage=quote,egg-farm/answer.txt)
	$(call answer,wool-store/job.sline,wool-store/answer.txt)
	$(BUILD)/stringline reference -o docs/reference.md
	LC_ALL=C awk -f interp/gen/csv.awk -f interp/gen/methods.awk interp/data/*.csv interp/calc/*.c \
	  interp/solve/*.c > docs/methods.md.tmp
	mv docs/methods.md.tmp docs/methods.md
	tests/csv_page.lua $(BUILD)/stringline --update
	lua5.4 interp/gen/rack.lua > docs/rack.svg.tmp
	mv docs/rack.svg.tmp docs/rack.svg
	tests/outside.lua $(BUILD)/stringline --document > docs/verification.md.tmp
	mv docs/verification.md.tmp docs/verification.md

# What is installed, below DESTDIR PREFIX, which may hold blanks.
HEADERS := $(wildcard include/stringline/*.h include/stringline/*.def)
PAGES    = README.md DEVELOPERS.md LICENSE $(wildcard docs/*.md docs/*.svg) \
           $(shell find examples -type f '(' -name '*.sline' -o -name '*.csv' -o -name '*.txt' ')')
DOC     := share/doc/stringline
MAN     := share/man/man1/stringline.1
BASH    := share/bash-completion/completions/stringline
ZSH     := share/zsh/site-functions/_stringline
FISH    := share/fish/vendor_completions.d/stringline.fish
EXEC    := libexec/stringline
PUT      = bin/stringline $(EXEC)/stringline-paper.so $(EXEC)/DejaVuSansCondensed.ttf \
           $(DOC)/DejaVu-LICENSE lib/libstringline.a lib/libstringline_host.a $(HEADERS) \
           lib/pkgconfig/stringline.pc lib/pkgconfig/stringline-host.pc $(MAN) $(BASH) $(ZSH) $(FISH) \
           $(addprefix $(DOC)/,$(PAGES))
# Folders that nothing but this program has.
FOLDERS  = include/stringline $(EXEC) $(DOC) $(addprefix $(DOC)/,docs $(shell find examples -type d))
install uninstall: export TO = $(DESTDIR)$(PREFIX)
install: export AT = $(PREFIX)
# What the command prints of itself: part, file.
made     = $(BUILD)/stringline reference $(1) > $(BUILD)/gen/$(1) && install -D -m 644 $(BUILD)/gen/$(1) "$$TO/$(2)"
put      = for file in $(1); do install -D -m 644 "$$file" "$$TO/$(2)$$file"; done
install: all ## DESTDIR= PREFIX=
	$(Q)install -D -m 755 $(BUILD)/stringline "$$TO/bin/stringline"
	$(Q)install -D -m 755 $(PAPER) "$$TO/$(EXEC)/stringline-paper.so"
	$(Q)install -D -m 644 $(FONT) "$$TO/$(EXEC)/DejaVuSansCondensed.ttf"
	$(Q)install -D -m 644 interp/draw/font/LICENSE "$$TO/$(DOC)/DejaVu-LICENSE"
	$(Q)install -d "$$TO/lib/pkgconfig"
	$(Q)install -m 644 $(BUILD)/libstringline.a $(BUILD)/libstringline_host.a "$$TO/lib/"
	$(Q)for pc in stringline stringline-host; do \
	  sed -e "s|@PREFIX@|$$AT|; s|@VERSION@|$(VERSION)|; s|@LUA@|$(LUA_ARCHIVE)|; s|@SOLVERS@|-Wl,$(LAPACK),$(BLAS)|" \
	    interp/gen/$$pc.pc.in > $(BUILD)/$$pc.pc; \
	  install -m 644 $(BUILD)/$$pc.pc "$$TO/lib/pkgconfig/"; done
	$(Q)$(call put,$(HEADERS))
	$(Q)$(call put,$(PAGES),$(DOC)/)
	$(Q)$(call made,man,$(MAN))
	$(Q)$(call made,bash,$(BASH))
	$(Q)$(call made,zsh,$(ZSH))
	$(Q)$(call made,fish,$(FISH))
uninstall: ## remove what install put there (DESTDIR= PREFIX=)
	$(Q)for file in $(PUT); do rm -f "$$TO/$$file"; done
	$(Q)for own in $$(printf '%s\n' $(FOLDERS) | sort -r); do rmdir "$$TO/$$own" 2>/dev/null || :; done
clean: ## remove what was built (BUILD=)
	@cd -- '$(BUILD)' 2>/dev/null || exit 0; folder=$$(pwd -P); \
	case $(CURDIR)/ in "$${folder%/}"/*) folder=; esac; \
	if [ "$$folder" = "$$(cd && pwd -P)" ] || ! grep -qs '^stringline is built with:' "$$folder/flags"; then \
	  echo "make: '$(BUILD)' is no build folder; nothing is removed" >&2; exit 1; \
	fi; cd / && rm -rf -- "$$folder"
help: ## this list
	@sed -n 's/^\([a-z][a-z-]*\):[^#]*## /\1\t/p' $(MAKEFILE_LIST) | awk -F '\t' '{ printf "  make %-10s %s\n", $$1, $$2 }'

.SECONDARY:
-include $(shell find $(BUILD)/interp $(BUILD)/gen $(BUILD)/tests -name '*.d' 2>/dev/null)
