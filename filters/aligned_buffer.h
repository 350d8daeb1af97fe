// A block of doubles aligned for the widest vector unit, zero at first.
#pragma once

#include <cstddef>
#include <cstdlib>
#include <memory>
#include <new>

namespace becalm::filters {

class AlignedBuffer {
public:
    AlignedBuffer() = default;
    explicit AlignedBuffer(std::size_t size) : size_(size)
    {
        constexpr std::size_t alignment = 64;
        const std::size_t bytes = (size * sizeof(double) + alignment - 1) / alignment * alignment;
        data_.reset(static_cast<double*>(std::aligned_alloc(alignment, bytes > 0 ? bytes : alignment)));
        if (!data_) throw std::bad_alloc();
        for (std::size_t i = 0; i < size; ++i) data_[i] = 0.0;
    }

    double* data() { return data_.get(); }
    const double* data() const { return data_.get(); }
    std::size_t size() const { return size_; }
    double& operator[](std::size_t i) { return data_[i]; }
    double operator[](std::size_t i) const { return data_[i]; }

private:
    struct Free {
        void operator()(double* pointer) const { std::free(pointer); }
    };
    std::unique_ptr<double[], Free> data_;
    std::size_t size_ = 0;
};

} // namespace becalm::filters
