/* What polling costs whatever does it: one listing of each folder given and one statx a file, every so many seconds,
   and nothing else. share-figures.py sets it beside the service. Arguments: seconds between rounds, rounds, folders. */
#define _GNU_SOURCE
#include <dirent.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

static double spent(void)
{
    struct rusage use;
    getrusage(RUSAGE_SELF, &use);
    return use.ru_utime.tv_sec + use.ru_stime.tv_sec + (use.ru_utime.tv_usec + use.ru_stime.tv_usec) / 1e6;
}

static long list(const char *folder)
{
    long files = 0;
    struct dirent *entry;
    struct statx about;
    DIR *open_folder = opendir(folder);
    if (!open_folder) exit(1);
    while ((entry = readdir(open_folder)))
        if (entry->d_name[0] != '.'
            && !statx(dirfd(open_folder), entry->d_name, AT_SYMLINK_NOFOLLOW,
                      STATX_TYPE | STATX_SIZE | STATX_MTIME, &about))
            files++;
    closedir(open_folder);
    return files;
}

int main(int count, char **given)
{
    int pause = atoi(given[1]), rounds = atoi(given[2]);
    long files = 0;
    double from = 0;
    for (int round = 0; round <= rounds; round++) {
        if (round == 1) {
            from = spent();
            files = 0;
        }
        for (int at = 3; at < count; at++) {
            files += list(given[at]);
            usleep((useconds_t)(pause * 1e6 / (count - 3)));
        }
    }
    double each = (spent() - from) / rounds;
    printf("%ld files, %.2f microseconds a file, %.2f %% of a core\n",
           files / rounds, each * 1e6 * rounds / files, 100 * each / pause);
}
