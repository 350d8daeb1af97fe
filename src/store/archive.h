// Values as bytes and back, for what the cache keeps. No format for exchange: numbers lie as this machine holds them,
// and who reads must be the program that wrote (src/store/cache.h sees to both).
//
// What is trivially copyable (numbers, rows of a ledger, vectors of either) goes in one piece; it must hold no
// pointers. Any other struct says in one function, which serves both directions, what it consists of. That function is
// found through the archive, so it stands in this namespace; a field forgotten in it does not compile:
//
//     void serialize(auto& archive, Of<Tone> auto& tone)
//     {
//         auto& [name, hz] = tone;
//         archive(name, hz);
//     }
#pragma once

#include <concepts>
#include <cstdint>
#include <cstring>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

namespace becalm::store {

template <class X, class T>
concept Of = std::same_as<std::remove_const_t<X>, T>;

template <class T>
concept OnePiece = std::is_trivially_copyable_v<T> && !std::is_pointer_v<T> && !std::same_as<T, std::string_view>;

class Writer {
public:
    template <class... Values>
    void operator()(const Values&... values)
    {
        (put(values), ...);
    }

    void reserve(std::size_t bytes) { bytes_.reserve(bytes); }
    std::string take() { return std::move(bytes_); }

private:
    void put_raw(const void* from, std::size_t size) { bytes_.append(static_cast<const char*>(from), size); }
    void put_size(std::size_t size) { put(std::uint64_t{size}); }

    template <class T>
    void put(const T& value)
    {
        if constexpr (OnePiece<T>)
            put_raw(&value, sizeof value);
        else
            serialize(*this, value);
    }

    void put(const std::string& text)
    {
        put_size(text.size());
        put_raw(text.data(), text.size());
    }

    template <class T>
    void put(const std::optional<T>& value)
    {
        put(value.has_value());
        if (value) put(*value);
    }

    template <class T>
    void put(const std::vector<T>& values)
    {
        put_size(values.size());
        if constexpr (OnePiece<T>)
            put_raw(values.data(), values.size() * sizeof(T));
        else
            for (const T& value : values) put(value);
    }

    std::string bytes_;
};

// Bytes that are too few, or promise more than there are, leave the values as they come and sound() false.
class Reader {
public:
    explicit Reader(std::span<const char> bytes) : rest_(bytes) {}

    template <class... Values>
    void operator()(Values&... values)
    {
        (get(values), ...);
    }

    // Everything was there, and nothing is left.
    bool sound() const { return sound_ && rest_.empty(); }

private:
    void get_raw(void* to, std::size_t size)
    {
        if (size > rest_.size()) sound_ = false;
        if (!sound_ || size == 0) return;
        std::memcpy(to, rest_.data(), size);
        rest_ = rest_.subspan(size);
    }

    // Of as many elements as the rest can hold, each at least so many bytes long; 0 where it promises more.
    std::size_t get_size(std::size_t least_bytes)
    {
        std::uint64_t size = 0;
        get(size);
        if (size > rest_.size() / least_bytes) sound_ = false;
        return sound_ ? static_cast<std::size_t>(size) : 0;
    }

    template <class T>
    void get(T& value)
    {
        if constexpr (std::same_as<T, bool>) {
            std::uint8_t byte = 0;
            get_raw(&byte, 1);
            value = byte != 0;
        } else if constexpr (OnePiece<T>) {
            get_raw(&value, sizeof value);
        } else {
            serialize(*this, value);
        }
    }

    void get(std::string& text)
    {
        text.resize(get_size(1));
        get_raw(text.data(), text.size());
    }

    template <class T>
    void get(std::optional<T>& value)
    {
        bool there = false;
        get(there);
        value.reset();
        if (there && sound_) get(value.emplace());
    }

    template <class T>
    void get(std::vector<T>& values)
    {
        values.clear();
        if constexpr (OnePiece<T>) {
            // Room that is written once: ledgers of a day are tens of megabytes.
            const std::size_t size = get_size(sizeof(T));
            values.reserve(size);
            for (std::size_t i = 0; i < size; ++i) {
                T value;
                std::memcpy(static_cast<void*>(&value), rest_.data() + i * sizeof(T), sizeof(T));
                values.push_back(value);
            }
            rest_ = rest_.subspan(size * sizeof(T));
        } else {
            const std::size_t size = get_size(1);
            for (std::size_t i = 0; i < size && sound_; ++i) get(values.emplace_back());
        }
    }

    std::span<const char> rest_;
    bool sound_ = true;
};

} // namespace becalm::store
