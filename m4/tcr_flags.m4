# SPDX-License-Identifier: GPL-3.0-or-later
# Flags that tipcrest adds of its own. They go into variables of ours; CFLAGS stays the user's.

# TCR_ADD_CFLAG(VARIABLE, FLAG): adds FLAG to VARIABLE if the compiler takes it. Clang only warns of
# a flag that it does not know, hence the -Werror.
AC_DEFUN([TCR_ADD_CFLAG], [
  AS_VAR_PUSHDEF([cache], [tcr_cv_flag_$2])
  AC_CACHE_CHECK([whether $CC takes $2], [cache], [
    tcr_saved_CFLAGS=$CFLAGS
    CFLAGS="$CFLAGS -Werror $2"
    AC_COMPILE_IFELSE([AC_LANG_PROGRAM], [AS_VAR_SET([cache], [yes])], [AS_VAR_SET([cache], [no])])
    CFLAGS=$tcr_saved_CFLAGS
  ])
  AS_VAR_IF([cache], [yes], [AS_VAR_APPEND([$1], [" $2"])])
  AS_VAR_POPDEF([cache])
])

# TCR_VERSION_SCRIPTS: sets the conditional WITH_VERSION_SCRIPTS if the linker takes them, as GNU's,
# gold and lld do. Elsewhere hidden visibility alone keeps internals inside.
AC_DEFUN([TCR_VERSION_SCRIPTS], [
  AC_CACHE_CHECK([whether the linker takes version scripts], [tcr_cv_version_scripts], [
    tcr_saved_LDFLAGS=$LDFLAGS
    echo 'TRY { global: tcr_*; local: *; };' > conftest.map
    LDFLAGS="$LDFLAGS -shared -fPIC -Wl,--version-script=conftest.map"
    AC_LINK_IFELSE([AC_LANG_SOURCE([int tcr_try(void); int tcr_try(void) { return 0; }])],
      [tcr_cv_version_scripts=yes], [tcr_cv_version_scripts=no])
    LDFLAGS=$tcr_saved_LDFLAGS
    rm -f conftest.map
  ])
  AM_CONDITIONAL([WITH_VERSION_SCRIPTS], [test "$tcr_cv_version_scripts" = yes])
])

# TCR_TARGET_CLONES: sets TCR_CLONES to what defines TCR_WITH_CLONES, if the compiler makes a function
# for several instruction sets and the loader picks one of them. musl and wasm have no such loader,
# so a program has to run. No result hangs on it.
AC_DEFUN([TCR_TARGET_CLONES], [
  AC_ARG_ENABLE([clones],
    [AS_HELP_STRING([--disable-clones], [do not compile columns for several instruction sets])],
    [], [enable_clones=auto])
  AC_CACHE_CHECK([whether functions can be cloned for instruction sets], [tcr_cv_target_clones], [
    AC_RUN_IFELSE([AC_LANG_PROGRAM([
      __attribute__((target_clones("default", "avx2", "avx512f")))
      double tcr_try(const double *x);
      double tcr_try(const double *x) { return x[[0]] + x[[1]] * x[[2]]; }
    ], [volatile double x[[3]] = {1.0, 2.0, 3.0};
        double y[[3]] = {x[[0]], x[[1]], x[[2]]};
        return tcr_try(y) == 7.0 ? 0 : 1;])],
      [tcr_cv_target_clones=yes], [tcr_cv_target_clones=no], [tcr_cv_target_clones=no])
  ])
  TCR_CLONES=
  AS_IF([test "$enable_clones" != no && test "$tcr_cv_target_clones" = yes],
    [TCR_CLONES=-DTCR_WITH_CLONES])
  AC_SUBST([TCR_CLONES])
])
