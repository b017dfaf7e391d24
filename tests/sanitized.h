/* SANITIZED: built with the address sanitizer, which takes memory and time of its own.
 * SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_TESTS_SANITIZED_H
#define LOGOCANE_TESTS_SANITIZED_H

#if defined __SANITIZE_ADDRESS__ /* gcc */
#define SANITIZED
#elif defined __has_feature /* clang */
#if __has_feature(address_sanitizer)
#define SANITIZED
#endif
#endif

#endif
