/*
 * A layer between a process and its files, for tests; preload it (ld.so(8), LD_PRELOAD).
 *
 * It watches one folder. What a program writes there is only certain once it was synced: the layer
 * remembers every write, cut and change of a name since then, and does either of two things.
 *
 * Power cut: at the chosen call it makes the folder what a disk could hold after the power failed
 * at that moment, and kills the process. Each file is as it was last synced, plus none, some or all
 * of what was written since, each write whole or torn at sectors; changed names are there up to some
 * point in their order, unless the folder itself was synced after them (fsync(2): "Calling fsync()
 * does not necessarily ensure that the entry in the directory containing the file has also reached
 * disk").
 *
 * Failing disk: the chosen call, or every call from it on, fails with an error.
 *
 *   FILE_LAYER_FOLDER     the folder, an absolute path without links
 *   FILE_LAYER_CUT_AFTER  the call at which the power fails; not there: never
 *   FILE_LAYER_SEED       for what is lost
 *
 * Write-ahead index files (-shm) are mapped memory, of no use after a power cut: they are not
 * watched, and hold what they did, nothing, or nonsense after it.
 */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <pthread.h>
#include <signal.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/uio.h>
#include <unistd.h>

#define SECTOR 512

struct change {
    struct change *next;
    int is_truncation;
    off_t offset; /* of a truncation: the new size */
    size_t length;
    unsigned char *data;
};

struct file {
    struct file *next;
    dev_t device;
    ino_t inode;
    int descriptor; /* ours, kept open: the inode stays, whatever happens to its names */
    unsigned char *durable;
    size_t durable_size;
    struct change *first, **last;
};

enum naming_kind { CREATED, RENAMED, REMOVED };

struct naming {
    struct naming *next;
    enum naming_kind kind;
    char path[PATH_MAX];
    char to[PATH_MAX];     /* of a renaming */
    char backup[PATH_MAX]; /* what stood at the name before; empty: nothing */
};

static pthread_mutex_t lock = PTHREAD_MUTEX_INITIALIZER;
static char folder[PATH_MAX];
static size_t folder_length;
static char undo_folder[PATH_MAX + 8];
static long cut_after, calls, backups;
static long fail_at;
static int fails_on, failure, failed_at_folder;
static uint64_t state_of_chance;
static struct file *files;
static struct naming *namings, **last_naming = &namings;

static int (*real_open)(const char *, int, ...);
static int (*real_openat)(int, const char *, int, ...);
static ssize_t (*real_write)(int, const void *, size_t);
static ssize_t (*real_pwrite)(int, const void *, size_t, off_t);
static ssize_t (*real_writev)(int, const struct iovec *, int);
static int (*real_ftruncate)(int, off_t);
static int (*real_fsync)(int);
static int (*real_fdatasync)(int);
static int (*real_rename)(const char *, const char *);
static int (*real_unlink)(const char *);

static void *must(const char *name) {
    void *found = dlsym(RTLD_NEXT, name);
    if (found == NULL) {
        fprintf(stderr, "file layer: no %s\n", name);
        abort();
    }
    return found;
}

static void prepare(void) {
    if (real_open != NULL) {
        return;
    }
    real_openat = (int (*)(int, const char *, int, ...))must("openat64");
    real_write = (ssize_t(*)(int, const void *, size_t))must("write");
    real_pwrite = (ssize_t(*)(int, const void *, size_t, off_t))must("pwrite64");
    real_writev = (ssize_t(*)(int, const struct iovec *, int))must("writev");
    real_ftruncate = (int (*)(int, off_t))must("ftruncate64");
    real_fsync = (int (*)(int))must("fsync");
    real_fdatasync = (int (*)(int))must("fdatasync");
    real_rename = (int (*)(const char *, const char *))must("rename");
    real_unlink = (int (*)(const char *))must("unlink");
    const char *watched = getenv("FILE_LAYER_FOLDER");
    if (watched != NULL && strlen(watched) < sizeof folder) {
        strcpy(folder, watched);
        folder_length = strlen(folder);
        snprintf(undo_folder, sizeof undo_folder, "%s.undo", folder);
        mkdir(undo_folder, 0700);
    }
    const char *after = getenv("FILE_LAYER_CUT_AFTER");
    cut_after = after == NULL ? 0 : atol(after);
    const char *seed = getenv("FILE_LAYER_SEED");
    state_of_chance = seed == NULL ? 1 : strtoull(seed, NULL, 10);
    real_open = (int (*)(const char *, int, ...))must("open64");
}

__attribute__((constructor)) static void begin(void) { prepare(); }

/* SplitMix64: G. Steele, D. Lea, C. Flood, "Fast splittable pseudorandom number generators", 2014. */
static uint64_t chance(uint64_t below) {
    uint64_t z = (state_of_chance += 0x9e3779b97f4a7c15u);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return (z ^ (z >> 31)) % below;
}

static int is_index(const char *path) {
    size_t length = strlen(path);
    return length > 4 && strcmp(path + length - 4, "-shm") == 0;
}

static int is_watched(const char *path) {
    return folder_length > 0 && strncmp(path, folder, folder_length) == 0 &&
           path[folder_length] == '/' && !is_index(path);
}

static struct file *file_of(int descriptor) {
    struct stat found;
    if (files == NULL || fstat(descriptor, &found) != 0) {
        return NULL;
    }
    for (struct file *each = files; each != NULL; each = each->next) {
        if (each->device == found.st_dev && each->inode == found.st_ino) {
            return each;
        }
    }
    return NULL;
}

static unsigned char *copy(const void *data, size_t length) {
    unsigned char *made = malloc(length == 0 ? 1 : length);
    if (made == NULL) {
        abort();
    }
    memcpy(made, data, length);
    return made;
}

static void add(struct file *file, int is_truncation, off_t offset, const void *data, size_t length) {
    struct change *change = calloc(1, sizeof *change);
    if (change == NULL) {
        abort();
    }
    change->is_truncation = is_truncation;
    change->offset = offset;
    change->length = length;
    change->data = length == 0 ? NULL : copy(data, length);
    *file->last = change;
    file->last = &change->next;
}

static void resize(unsigned char **content, size_t *size, size_t wanted) {
    unsigned char *larger = realloc(*content, wanted == 0 ? 1 : wanted);
    if (larger == NULL) {
        abort();
    }
    if (wanted > *size) {
        memset(larger + *size, 0, wanted - *size);
    }
    *content = larger;
    *size = wanted;
}

static void put(unsigned char **content, size_t *size, off_t at, const void *data, size_t length) {
    if ((size_t)at + length > *size) {
        resize(content, size, (size_t)at + length);
    }
    memcpy(*content + at, data, length);
}

static void forget_changes(struct file *file) {
    while (file->first != NULL) {
        struct change *gone = file->first;
        file->first = gone->next;
        free(gone->data);
        free(gone);
    }
    file->last = &file->first;
}

static void synced(struct file *file) {
    for (struct change *each = file->first; each != NULL; each = each->next) {
        if (each->is_truncation) {
            resize(&file->durable, &file->durable_size, (size_t)each->offset);
        } else {
            put(&file->durable, &file->durable_size, each->offset, each->data, each->length);
        }
    }
    forget_changes(file);
}

/* What was there when the process first opened it is on the disk. */
static struct file *watch(int descriptor, const char *path, int is_new) {
    struct file *file = file_of(descriptor);
    if (file != NULL) {
        return file;
    }
    struct stat found;
    if (fstat(descriptor, &found) != 0 || !S_ISREG(found.st_mode)) {
        return NULL;
    }
    file = calloc(1, sizeof *file);
    if (file == NULL) {
        abort();
    }
    file->device = found.st_dev;
    file->inode = found.st_ino;
    file->last = &file->first;
    file->descriptor = real_open(path, O_RDWR | O_CLOEXEC);
    if (file->descriptor < 0) {
        free(file);
        return NULL;
    }
    if (!is_new && found.st_size > 0) {
        resize(&file->durable, &file->durable_size, (size_t)found.st_size);
        if (pread(file->descriptor, file->durable, file->durable_size, 0) != found.st_size) {
            abort();
        }
    }
    file->next = files;
    files = file;
    return file;
}

static void unwatch(const char *path) {
    struct stat found;
    if (stat(path, &found) != 0) {
        return;
    }
    for (struct file **each = &files; *each != NULL; each = &(*each)->next) {
        struct file *file = *each;
        if (file->device == found.st_dev && file->inode == found.st_ino) {
            *each = file->next;
            forget_changes(file);
            free(file->durable);
            close(file->descriptor);
            free(file);
            return;
        }
    }
}

static struct naming *name_change(enum naming_kind kind, const char *path, const char *to) {
    struct naming *naming = calloc(1, sizeof *naming);
    if (naming == NULL) {
        abort();
    }
    naming->kind = kind;
    snprintf(naming->path, sizeof naming->path, "%s", path);
    snprintf(naming->to, sizeof naming->to, "%s", to);
    return naming;
}

static void note(struct naming *naming) {
    *last_naming = naming;
    last_naming = &naming->next;
}

static void keep_a_copy(struct naming *naming, const char *path) {
    char backup[PATH_MAX + 32];
    snprintf(backup, sizeof backup, "%s/%d-%ld", undo_folder, (int)getpid(), ++backups);
    if (link(path, backup) == 0) {
        snprintf(naming->backup, sizeof naming->backup, "%.*s", PATH_MAX - 1, backup);
    }
}

static void drop_backup(struct naming *naming) {
    if (naming->backup[0] != 0) {
        unwatch(naming->backup);
        real_unlink(naming->backup);
    }
}

static void folder_synced(void) {
    while (namings != NULL) {
        struct naming *gone = namings;
        namings = gone->next;
        drop_backup(gone);
        free(gone);
    }
    last_naming = &namings;
}

static void undo(struct naming *naming) {
    if (naming->kind == CREATED) {
        real_unlink(naming->path);
    } else if (naming->kind == RENAMED) {
        real_rename(naming->to, naming->path);
        if (naming->backup[0] != 0) {
            real_rename(naming->backup, naming->to);
        }
    } else if (naming->backup[0] != 0) {
        real_rename(naming->backup, naming->path);
    }
}

static void undo_from(struct naming *naming) {
    if (naming != NULL) {
        undo_from(naming->next);
        undo(naming);
    }
}

/* Some of its sectors, each whole: from the front, or any. */
static void tear(unsigned char **content, size_t *size, const struct change *change) {
    int is_prefix = chance(2) == 0;
    size_t sectors = (change->length + SECTOR - 1) / SECTOR;
    size_t kept = (size_t)chance(sectors + 1);
    for (size_t i = 0; i < sectors; i++) {
        if (is_prefix ? i < kept : chance(2) == 0) {
            size_t from = i * SECTOR;
            size_t length = change->length - from < SECTOR ? change->length - from : SECTOR;
            put(content, size, change->offset + (off_t)from, change->data + from, length);
        }
    }
}

enum way { NOTHING, IN_ORDER, ANY };

static void lose(struct file *file, enum way way) {
    if (file->first == NULL) {
        return;
    }
    unsigned char *content = copy(file->durable == NULL ? (unsigned char *)"" : file->durable,
                                  file->durable_size);
    size_t size = file->durable_size;
    long count = 0;
    for (struct change *each = file->first; each != NULL; each = each->next) {
        count++;
    }
    long kept = way == NOTHING ? 0 : (long)chance((uint64_t)count + 1);
    long number = 0;
    for (struct change *each = file->first; each != NULL; each = each->next, number++) {
        int is_torn = way == ANY ? chance(3) == 0 : way == IN_ORDER && number == kept;
        int is_kept = way == ANY ? chance(2) == 0 : number < kept;
        if (each->is_truncation) {
            if (is_kept) {
                resize(&content, &size, (size_t)each->offset);
            }
        } else if (is_torn) {
            tear(&content, &size, each);
        } else if (is_kept) {
            put(&content, &size, each->offset, each->data, each->length);
        }
    }
    if (real_ftruncate(file->descriptor, (off_t)size) != 0) {
        abort();
    }
    for (size_t done = 0; done < size;) {
        ssize_t wrote = real_pwrite(file->descriptor, content + done, size - done, (off_t)done);
        if (wrote <= 0) {
            abort();
        }
        done += (size_t)wrote;
    }
    free(content);
}

/* Beside each file that has one; the names are those of now. */
static void spoil_index(const char *database) {
    char path[PATH_MAX + 8];
    snprintf(path, sizeof path, "%s-shm", database);
    struct stat found;
    if (stat(path, &found) != 0) {
        return;
    }
    uint64_t how = chance(3);
    int descriptor = real_open(path, O_RDWR | O_CLOEXEC);
    if (descriptor < 0 || how == 0) {
        return;
    }
    if (how == 1) {
        if (real_ftruncate(descriptor, 0) != 0) {
            abort();
        }
    } else {
        for (off_t at = 0; at < found.st_size; at += 8) {
            uint64_t nonsense = chance(UINT64_MAX);
            if (real_pwrite(descriptor, &nonsense, sizeof nonsense, at) < 0) {
                abort();
            }
        }
    }
    close(descriptor);
}

static void cut(void) {
    enum way way = (enum way)chance(3);
    for (struct file *each = files; each != NULL; each = each->next) {
        lose(each, way);
    }
    long count = 0;
    for (struct naming *each = namings; each != NULL; each = each->next) {
        count++;
    }
    struct naming *gone = namings;
    for (long kept = (long)chance((uint64_t)count + 1); kept > 0; kept--) {
        gone = gone->next;
    }
    undo_from(gone);
    const char *database = getenv("FILE_LAYER_DATABASE");
    if (database != NULL) {
        spoil_index(database);
    }
    kill(getpid(), SIGKILL);
    for (;;) {
        pause();
    }
}

/* Counts a call; under the lock. Whether it is to fail; then errno says why. */
static int counted(int is_folder) {
    calls++;
    if (fail_at > 0 && (calls == fail_at || (fails_on && calls > fail_at))) {
        failed_at_folder |= is_folder;
        errno = failure;
        return 1;
    }
    return 0;
}

static void cut_when_due(void) {
    if (cut_after > 0 && calls >= cut_after) {
        cut();
    }
}

/* For the tests, in the process: the call with that number from now fails; 0: none does. */
void file_layer_fail(long at, int and_all_after, int error) {
    pthread_mutex_lock(&lock);
    calls = 0;
    fail_at = at;
    fails_on = and_all_after;
    failure = error;
    failed_at_folder = 0;
    pthread_mutex_unlock(&lock);
}

/* How many calls there were since then. */
long file_layer_calls(void) {
    pthread_mutex_lock(&lock);
    long count = calls;
    pthread_mutex_unlock(&lock);
    return count;
}

/* Whether what failed since then was the opening or the sync of a folder. */
int file_layer_failed_at_folder(void) {
    pthread_mutex_lock(&lock);
    int answer = failed_at_folder;
    pthread_mutex_unlock(&lock);
    return answer;
}

static int opened(int at, const char *path, int flags, mode_t mode) {
    prepare();
    char whole[PATH_MAX];
    if (at != AT_FDCWD && path[0] != '/') {
        char link_name[64];
        snprintf(link_name, sizeof link_name, "/proc/self/fd/%d", at);
        ssize_t length = readlink(link_name, whole, sizeof whole - 1);
        if (length < 0 || (size_t)length + strlen(path) + 2 > sizeof whole) {
            return real_openat(at, path, flags, mode);
        }
        whole[length] = '/';
        strcpy(whole + length + 1, path);
    } else {
        snprintf(whole, sizeof whole, "%s", path);
    }
    if (!is_watched(whole)) {
        return real_openat(at, path, flags, mode);
    }
    pthread_mutex_lock(&lock);
    struct stat before;
    int is_new = stat(whole, &before) != 0;
    int descriptor = -1;
    if (!counted(!is_new && S_ISDIR(before.st_mode))) {
        descriptor = real_openat(at, path, flags, mode);
        int error = errno;
        if (descriptor >= 0) {
            struct file *file = NULL;
            if ((flags & O_TRUNC) != 0 && !is_new) {
                /* What it held is gone by now, but may be back after a cut: not for our files,
                   which are never truncated while their content counts. */
                file = watch(descriptor, whole, 1);
                if (file != NULL) {
                    add(file, 1, 0, NULL, 0);
                }
            } else {
                file = watch(descriptor, whole, is_new);
            }
            if (file != NULL && is_new) {
                note(name_change(CREATED, whole, ""));
            }
            cut_when_due();
        }
        errno = error;
    }
    int error = errno;
    pthread_mutex_unlock(&lock);
    errno = error;
    return descriptor;
}

static mode_t mode_of(int flags, va_list rest) {
    return (flags & (O_CREAT | O_TMPFILE)) != 0 ? (mode_t)va_arg(rest, int) : 0;
}

#define OPENS(name)                                     \
    int name(const char *path, int flags, ...) {        \
        va_list rest;                                   \
        va_start(rest, flags);                          \
        mode_t mode = mode_of(flags, rest);             \
        va_end(rest);                                   \
        return opened(AT_FDCWD, path, flags, mode);     \
    }
OPENS(open)
OPENS(open64)

#define OPENS_AT(name)                                  \
    int name(int at, const char *path, int flags, ...) {\
        va_list rest;                                   \
        va_start(rest, flags);                          \
        mode_t mode = mode_of(flags, rest);             \
        va_end(rest);                                   \
        return opened(at, path, flags, mode);           \
    }
OPENS_AT(openat)
OPENS_AT(openat64)

static ssize_t written(int descriptor, const void *data, size_t length, off_t offset, int at_offset) {
    prepare();
    pthread_mutex_lock(&lock);
    struct file *file = file_of(descriptor);
    ssize_t wrote = -1;
    if (file == NULL) {
        pthread_mutex_unlock(&lock);
        return at_offset ? real_pwrite(descriptor, data, length, offset)
                         : real_write(descriptor, data, length);
    }
    if (!counted(0)) {
        off_t start = at_offset ? offset : lseek(descriptor, 0, SEEK_CUR);
        if (!at_offset && (fcntl(descriptor, F_GETFL) & O_APPEND) != 0) {
            start = lseek(descriptor, 0, SEEK_END);
        }
        wrote = at_offset ? real_pwrite(descriptor, data, length, offset)
                          : real_write(descriptor, data, length);
        if (wrote > 0) {
            add(file, 0, start, data, (size_t)wrote);
        }
        cut_when_due();
    }
    int error = errno;
    pthread_mutex_unlock(&lock);
    errno = error;
    return wrote;
}

ssize_t write(int descriptor, const void *data, size_t length) {
    return written(descriptor, data, length, 0, 0);
}
ssize_t pwrite(int descriptor, const void *data, size_t length, off_t offset) {
    return written(descriptor, data, length, offset, 1);
}
ssize_t pwrite64(int descriptor, const void *data, size_t length, off_t offset) {
    return written(descriptor, data, length, offset, 1);
}

ssize_t writev(int descriptor, const struct iovec *parts, int count) {
    prepare();
    pthread_mutex_lock(&lock);
    struct file *file = file_of(descriptor);
    pthread_mutex_unlock(&lock);
    if (file == NULL) {
        return real_writev(descriptor, parts, count);
    }
    ssize_t all = 0;
    for (int i = 0; i < count; i++) {
        ssize_t wrote = written(descriptor, parts[i].iov_base, parts[i].iov_len, 0, 0);
        if (wrote < 0) {
            return all > 0 ? all : wrote;
        }
        all += wrote;
    }
    return all;
}

static int truncated(int descriptor, off_t size) {
    prepare();
    pthread_mutex_lock(&lock);
    struct file *file = file_of(descriptor);
    int result = -1;
    if (file == NULL) {
        pthread_mutex_unlock(&lock);
        return real_ftruncate(descriptor, size);
    }
    if (!counted(0)) {
        result = real_ftruncate(descriptor, size);
        if (result == 0) {
            add(file, 1, size, NULL, 0);
        }
        cut_when_due();
    }
    int error = errno;
    pthread_mutex_unlock(&lock);
    errno = error;
    return result;
}

int ftruncate(int descriptor, off_t size) { return truncated(descriptor, size); }
int ftruncate64(int descriptor, off_t size) { return truncated(descriptor, size); }

static int is_our_folder(int descriptor) {
    struct stat found;
    if (folder_length == 0 || fstat(descriptor, &found) != 0 || !S_ISDIR(found.st_mode)) {
        return 0;
    }
    char link_name[64];
    char path[PATH_MAX];
    snprintf(link_name, sizeof link_name, "/proc/self/fd/%d", descriptor);
    ssize_t length = readlink(link_name, path, sizeof path - 1);
    return length >= (ssize_t)folder_length && strncmp(path, folder, folder_length) == 0 &&
           ((size_t)length == folder_length || path[folder_length] == '/');
}

static int sync_of(int descriptor, int (*real)(int)) {
    pthread_mutex_lock(&lock);
    struct file *file = file_of(descriptor);
    int is_folder = file == NULL && is_our_folder(descriptor);
    int result = -1;
    if (file == NULL && !is_folder) {
        pthread_mutex_unlock(&lock);
        return real(descriptor);
    }
    if (!counted(is_folder)) {
        /* The power fails before the sync is done. The real one is left out: it protects from
           nothing that is tested here, and takes its time. */
        cut_when_due();
        result = 0;
        if (is_folder) {
            folder_synced();
        } else {
            synced(file);
        }
    }
    int error = errno;
    pthread_mutex_unlock(&lock);
    errno = error;
    return result;
}

int fsync(int descriptor) {
    prepare();
    return sync_of(descriptor, real_fsync);
}
int fdatasync(int descriptor) {
    prepare();
    return sync_of(descriptor, real_fdatasync);
}

int rename(const char *from, const char *to) {
    prepare();
    if (!is_watched(from) || !is_watched(to)) {
        return real_rename(from, to);
    }
    pthread_mutex_lock(&lock);
    int result = -1;
    if (!counted(0)) {
        struct naming *naming = name_change(RENAMED, from, to);
        keep_a_copy(naming, to);
        result = real_rename(from, to);
        int error = errno;
        if (result == 0) {
            note(naming);
        } else {
            drop_backup(naming);
            free(naming);
        }
        cut_when_due();
        errno = error;
    }
    int error = errno;
    pthread_mutex_unlock(&lock);
    errno = error;
    return result;
}

int unlink(const char *path) {
    prepare();
    if (!is_watched(path)) {
        return real_unlink(path);
    }
    pthread_mutex_lock(&lock);
    int result = -1;
    if (!counted(0)) {
        struct naming *naming = name_change(REMOVED, path, "");
        keep_a_copy(naming, path);
        result = real_unlink(path);
        int error = errno;
        if (result == 0) {
            note(naming);
        } else {
            drop_backup(naming);
            free(naming);
        }
        cut_when_due();
        errno = error;
    }
    int error = errno;
    pthread_mutex_unlock(&lock);
    errno = error;
    return result;
}
