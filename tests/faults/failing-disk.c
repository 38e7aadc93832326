/*
 * Preloaded before the C library: from the n-th call that writes to a path with FAULT_MATCH in it, such calls fail.
 * FAULT_N: which; FAULT_ERROR: with what errno; FAULT_LOG: a file that is made when the first one fails.
 */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static long calls;

static int fails(const char *path) {
  const char *match = getenv("FAULT_MATCH"), *at = getenv("FAULT_N"), *log = getenv("FAULT_LOG");
  if (!match || !at || !path || !strstr(path, match)) return 0;
  if (__sync_add_and_fetch(&calls, 1) < atol(at)) return 0;
  if (log) {
    int (*real)(const char *, int, ...) = dlsym(RTLD_NEXT, "open");
    int file = real(log, O_WRONLY | O_CREAT, 0644);
    if (file >= 0) close(file);
  }
  errno = atoi(getenv("FAULT_ERROR"));
  return 1;
}

static int fails_at(int file) {
  char link[64], path[512];
  int before = errno;
  snprintf(link, sizeof link, "/proc/self/fd/%d", file);
  ssize_t length = readlink(link, path, sizeof path - 1);
  errno = before;
  if (length < 0) return 0;
  path[length] = 0;
  return fails(path);
}

#define ON_FILE(result, name, parameters, arguments) \
  result name parameters { \
    static result(*real) parameters; \
    if (!real) real = dlsym(RTLD_NEXT, #name); \
    return file > 2 && fails_at(file) ? -1 : real arguments; \
  }
ON_FILE(ssize_t, write, (int file, const void *from, size_t size), (file, from, size))
ON_FILE(ssize_t, pwrite, (int file, const void *from, size_t size, off_t at), (file, from, size, at))
ON_FILE(ssize_t, pwrite64, (int file, const void *from, size_t size, off64_t at), (file, from, size, at))
ON_FILE(int, fsync, (int file), (file))
ON_FILE(int, fdatasync, (int file), (file))
ON_FILE(int, ftruncate, (int file, off_t size), (file, size))
ON_FILE(int, ftruncate64, (int file, off64_t size), (file, size))

#define ON_PATH(name, parameters, arguments, path) \
  int name parameters { \
    static int(*real) parameters; \
    if (!real) real = dlsym(RTLD_NEXT, #name); \
    return fails(path) ? -1 : real arguments; \
  }
ON_PATH(unlink, (const char *path), (path), path)
ON_PATH(rename, (const char *from, const char *to), (from, to), to)
ON_PATH(mkdir, (const char *path, mode_t mode), (path, mode), path)

#define OPENING(name) \
  int name(const char *path, int flags, ...) { \
    static int (*real)(const char *, int, ...); \
    if (!real) real = dlsym(RTLD_NEXT, #name); \
    va_list rest; \
    va_start(rest, flags); \
    mode_t mode = flags & O_CREAT ? va_arg(rest, int) : 0; \
    va_end(rest); \
    return (flags & (O_CREAT | O_WRONLY | O_RDWR)) && fails(path) ? -1 : real(path, flags, mode); \
  }
OPENING(open)
OPENING(open64)
