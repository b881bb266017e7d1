/*
 * Put beneath a program by LD_PRELOAD: keeps, in $POWER_CUT_DISK, what each file of the record was
 * when it was last synced. That is all that a power cut leaves of it at worst. A file that was deleted
 * is gone for good only once its folder is synced.
 */
#define _GNU_SOURCE
#include <dirent.h>
#include <dlfcn.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static void keep_folder(const char *path, const char *disk) {
  char here[8192], kept[8192];
  DIR *folder = opendir(disk);
  struct dirent *entry;
  struct stat found;
  while (folder != NULL && (entry = readdir(folder)) != NULL) {
    if (strncmp(entry->d_name, "plateau.db", 10) != 0) continue;
    snprintf(here, sizeof here, "%s/%s", path, entry->d_name);
    snprintf(kept, sizeof kept, "%s/%s", disk, entry->d_name);
    if (stat(here, &found) != 0) unlink(kept);
  }
  if (folder != NULL) closedir(folder);
}

static void keep(int fd) {
  const char *disk = getenv("POWER_CUT_DISK");
  char link[64], path[4096], aside[8192], target[8192];
  if (disk == NULL) return;
  snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
  ssize_t length = readlink(link, path, sizeof path - 1);
  if (length <= 0) return;
  path[length] = 0;
  struct stat found;
  snprintf(aside, sizeof aside, "%s/plateau.db", path);
  if (stat(aside, &found) == 0) keep_folder(path, disk);
  const char *name = strrchr(path, '/');
  if (name == NULL || strncmp(name, "/plateau.db", 11) != 0) return;
  snprintf(target, sizeof target, "%s%s", disk, name);
  snprintf(aside, sizeof aside, "%s.aside", target);
  int from = open(path, O_RDONLY);
  int to = open(aside, O_WRONLY | O_CREAT | O_TRUNC, 0600);
  char piece[1 << 16];
  ssize_t n;
  while (from >= 0 && to >= 0 && (n = read(from, piece, sizeof piece)) > 0) {
    if (write(to, piece, (size_t)n) != n) abort();
  }
  close(from);
  close(to);
  rename(aside, target); /* as a whole: the program may be killed at any moment */
}

int fsync(int fd) {
  int (*real)(int) = (int (*)(int))dlsym(RTLD_NEXT, "fsync");
  int result = real(fd);
  if (result == 0) keep(fd);
  return result;
}

int fdatasync(int fd) {
  int (*real)(int) = (int (*)(int))dlsym(RTLD_NEXT, "fdatasync");
  int result = real(fd);
  if (result == 0) keep(fd);
  return result;
}
