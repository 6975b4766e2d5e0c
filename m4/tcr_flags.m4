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
