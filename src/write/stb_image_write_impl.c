/* The code of <stb_image_write.h>, whose JPEG writer makes the picture for e-mail. SPDX-License-Identifier:
 * MIT
 *
 * Whoever writes a JPEG includes <stb_image_write.h>, without more, and calls stbi_write_jpg_to_func. */
#define STBI_WRITE_NO_STDIO
#define STB_IMAGE_WRITE_IMPLEMENTATION
#include <stb_image_write.h>
