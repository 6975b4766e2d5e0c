# SPDX-License-Identifier: GPL-3.0-or-later
# For tests/mutants.sh, in the folder where it builds: one test program or the command from the copy
# in tree/, without libtool, so that a mutant costs one compilation and one link.

VPATH = tree
CC = cc
CFLAGS = -O1
# The modules that build-aux/packages.sh names.
modules := $(shell sed -n '/^[a-z]/s/.* module://p' tree/build-aux/packages.sh)
flags := -ffp-contract=off -D_GNU_SOURCE -DTCR_WITH_DRAW -DTCR_WITH_STUDY -Itree/include -Itree/lib \
	-Itree/tests $(shell pkg-config --cflags $(modules))
libs := $(shell pkg-config --libs $(modules)) -lgif -lglpk -lpthread -lm

objects = $(patsubst tree/%.c,%.o,$(foreach folder,$(1),$(wildcard tree/$(folder)/*.c)))
core := $(call objects,$(addprefix lib/,num geom model line rod plan))
file := $(filter-out lib/file/json_only.o,$(call objects,lib/file))
study := $(call objects,lib/study)
results := $(call objects,lib/results)
draw := $(call objects,lib/draw)
# The command for many machines has a main of its own.
cli := $(filter-out cli/study_mpi.o,$(call objects,cli))
support := $(call objects,tests/support)

link = $(CC) $(CFLAGS) $(LDFLAGS) -o $@ $^ $(libs)

tipcrest: $(cli) $(draw) $(results) $(study) $(file) $(core)
	$(link)
tipcrest-study-mpi: cli/study_mpi.o $(filter-out cli/main.o,$(cli)) $(draw) $(results) $(study) \
		$(file) $(core)
	$(link)
tests/draw/%: tests/draw/%.o $(support) $(draw) $(core)
	$(link)
tests/file/%: tests/file/%.o $(support) $(file) $(core)
	$(link)
tests/model/test_rows: tests/model/rows_avx2.o tests/model/rows_avx512.o
tests/model/test_load_rows: tests/model/load_rows_avx2.o tests/model/load_rows_avx512.o
tests/study/%: tests/study/%.o $(support) $(study) $(file) $(core)
	$(link)
tests/study/test_run: LDFLAGS += -Wl,--wrap=pthread_create
tests/results/%: tests/results/%.o $(support) $(results) $(study) $(file) $(core)
	$(link)
tests/cli/%: tests/cli/%.o $(support) $(filter-out cli/main.o,$(cli)) $(draw) $(results) $(study) \
		$(file) $(core)
	$(link)
tests/%: tests/%.o $(support) $(core)
	$(link)
tests/faults/%.so: tests/faults/%.c
	@mkdir -p $(@D)
	$(CC) $(flags) -fPIC -shared -o $@ $< -ldl
%.o: %.c
	@mkdir -p $(@D)
	$(CC) $(flags) $(CFLAGS) -MMD -MP -c -o $@ $<

.SECONDARY:
-include $(shell find . -path ./tree -prune -o -name '*.d' -print)
