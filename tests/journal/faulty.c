/* A disk that fails when it is told to: loaded before the C library, it counts the calls that reach
   files under one folder and makes the nth of them fail, or write short; see faulty_disk.py. */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <sys/types.h>
#include <unistd.h>

enum { READ = 1, WRITE = 2, SYNC = 4, CUT = 8, OPEN = 16 };

static char folder[4096];
static int wanted, at, number, brief, lasting, count;

/* Fail the call `nth` (from 1) of the kinds in `kinds` with `error`; 0 only counts. `half` lets a
   write keep half of its bytes first; `ever` fails all that follow as well. */
void faulty_arm(const char *under, int kinds, int nth, int error, int half, int ever) {
    snprintf(folder, sizeof folder, "%s", under);
    wanted = kinds; at = nth; number = error; brief = half; lasting = ever; count = 0;
}
int faulty_count(void) { return count; }

static int fails(int kind) {
    if (!(wanted & kind)) return 0;
    count++;
    return at && (count == at || (lasting && count > at));
}
static int here(int file) {
    char link[64], path[4096];
    if (!wanted) return 0;
    snprintf(link, sizeof link, "/proc/self/fd/%d", file);
    ssize_t length = readlink(link, path, sizeof path - 1);
    if (length <= 0) return 0;
    path[length] = 0;
    return !strncmp(path, folder, strlen(folder));
}
#define REAL(name) \
    static __typeof__(name) *real; \
    if (!real) real = (__typeof__(name) *)dlsym(RTLD_NEXT, #name)
#define FAIL do { errno = number; return -1; } while (0)

#define PREAD(name, off) \
    ssize_t name(int file, void *bytes, size_t size, off place) { \
        REAL(name); if (here(file) && fails(READ)) FAIL; return real(file, bytes, size, place); }
#define PWRITE(name, off) \
    ssize_t name(int file, const void *bytes, size_t size, off place) { \
        REAL(name); \
        if (here(file) && fails(WRITE)) { if (brief) { (void)!real(file, bytes, size / 2, place); } FAIL; } \
        return real(file, bytes, size, place); }
PREAD(pread, off_t)
PREAD(pread64, off64_t)
PWRITE(pwrite, off_t)
PWRITE(pwrite64, off64_t)
ssize_t read(int file, void *bytes, size_t size) {
    REAL(read); if (here(file) && fails(READ)) FAIL; return real(file, bytes, size); }
ssize_t write(int file, const void *bytes, size_t size) {
    REAL(write);
    if (here(file) && fails(WRITE)) { if (brief) { (void)!real(file, bytes, size / 2); } FAIL; }
    return real(file, bytes, size); }
int fsync(int file) { REAL(fsync); if (here(file) && fails(SYNC)) FAIL; return real(file); }
int fdatasync(int file) { REAL(fdatasync); if (here(file) && fails(SYNC)) FAIL; return real(file); }
int ftruncate(int file, off_t size) {
    REAL(ftruncate); if (here(file) && fails(CUT)) FAIL; return real(file, size); }
int ftruncate64(int file, off64_t size) {
    REAL(ftruncate64); if (here(file) && fails(CUT)) FAIL; return real(file, size); }
#define OPENS(name) \
    int name(const char *path, int flags, ...) { \
        va_list more; va_start(more, flags); int mode = va_arg(more, int); va_end(more); \
        REAL(name); \
        if (wanted && !strncmp(path, folder, strlen(folder)) && fails(OPEN)) FAIL; \
        return real(path, flags, mode); }
OPENS(open)
OPENS(open64)
