#include "src/io/file_hash.h"

#include <array>
#include <memory>
#include <vector>

#include <openssl/evp.h>

#include "src/io/recording_reader.h"
#include "src/io/regular_file.h"

namespace becalm::io {

namespace {

// The digest calls fail only where the library has no SHA-256 or no memory: neither is a matter of the user's input.
class Sha256 {
public:
    Sha256() : context_(EVP_MD_CTX_new(), &EVP_MD_CTX_free)
    {
        BECALM_ASSERT(context_ && EVP_DigestInit_ex(context_.get(), EVP_sha256(), nullptr) == 1);
    }

    void add(std::string_view bytes)
    {
        BECALM_ASSERT(EVP_DigestUpdate(context_.get(), bytes.data(), bytes.size()) == 1);
    }

    std::string finish()
    {
        std::array<unsigned char, EVP_MAX_MD_SIZE> digest{};
        unsigned int size = 0;
        BECALM_ASSERT(EVP_DigestFinal_ex(context_.get(), digest.data(), &size) == 1);
        constexpr std::string_view digits = "0123456789abcdef";
        std::string text;
        text.reserve(std::size_t{size} * 2);
        for (unsigned int i = 0; i < size; ++i) {
            text += digits[digest[i] >> 4];
            text += digits[digest[i] & 15];
        }
        return text;
    }

private:
    std::unique_ptr<EVP_MD_CTX, decltype(&EVP_MD_CTX_free)> context_;
};

} // namespace

Result<std::string> sha256_of_file(const std::string& path)
{
    auto opened = open_regular_file(path);
    if (!opened) return fail(opened.error());
    Sha256 digest;
    std::vector<char> block(std::size_t{256} << 10);
    for (;;) {
        const auto got = read_bytes(opened->handle, path, block);
        if (!got) return fail(got.error());
        if (*got == 0) return digest.finish();
        digest.add({block.data(), *got});
    }
}

std::string sha256_of_text(std::string_view text)
{
    Sha256 digest;
    digest.add(text);
    return digest.finish();
}

std::string sha256_of_files(std::span<const std::pair<std::string, std::string>> hashes_and_names)
{
    if (hashes_and_names.size() == 1) return hashes_and_names.front().first;
    std::string text;
    for (const auto& [hash, name] : hashes_and_names) text += hash + "  " + name + "\n";
    return sha256_of_text(text);
}

Result<std::string> sha256_of_recording(const std::string& path)
{
    const auto files = files_of_recording(path);
    if (!files) return fail(files.error());
    std::vector<std::pair<std::string, std::string>> hashes;
    for (const RecordingFile& file : *files) {
        auto hash = sha256_of_file(file.path);
        if (!hash) return fail(hash.error());
        hashes.emplace_back(std::move(*hash), file.name);
    }
    return sha256_of_files(hashes);
}

} // namespace becalm::io
