// Spectra, bands, source lines, energy shares and what if, of the verdict that is looked at.
#pragma once

#include <QLabel>
#include <QPushButton>
#include <QTabWidget>
#include <QTableView>

#include "ui/desktop/components_model.h"
#include "ui/desktop/page.h"
#include "ui/desktop/source_spectrum_view.h"
#include "ui/desktop/source_trial.h"
#include "ui/desktop/sources_panel.h"
#include "ui/desktop/spectrum_controls.h"
#include "ui/desktop/what_if_panel.h"

namespace becalm::desktop {

class WhyPage final : public Page {
    Q_OBJECT

public:
    explicit WhyPage(Session& session, QWidget* parent = nullptr);

protected:
    void refresh() override;

private:
    QWidget* make_figures();
    QWidget* make_tables();

    // The space of the worst verdict, where none is chosen. False: there is nothing to explain, and the page says why.
    bool have_a_space();
    void ask_for_causes();
    void show_causes();
    void show_explanation();
    void show_figures();
    void draw_spectrum();
    void say_in_page(const QString& words, bool can_ask = false);
    const ExplainedSpectrum* spectrum() const; // of the chosen axis
    ExplainedSpectrum with_tried_lines(ExplainedSpectrum spectrum) const;
    void choose_component(int row);
    void take_line(std::size_t marker);
    void show_tried();
    void write_speeds();

    std::shared_ptr<const Causes> shown_;      // whose explanation is seen
    const Explanation* explanation_ = nullptr; // in shown_
    SourceTrial trial_;
    std::shared_ptr<const Survey> trial_of_;
    SourceTrial taken_trial_; // as it was when a line was taken
    std::string taken_source_;
    std::shared_ptr<const Survey> asked_for_; // causes of this survey and space are on their way
    std::string asked_space_;
    bool stopped_ = false;

    SpectrumControls* controls_ = nullptr;
    QLabel* words_ = nullptr;
    QPushButton* again_ = nullptr;
    QWidget* body_ = nullptr;
    SourceSpectrumView* spectrum_view_ = nullptr;
    FigureView *bands_view_ = nullptr, *time_view_ = nullptr, *ladder_view_ = nullptr;
    QTabWidget *second_ = nullptr, *tables_ = nullptr;
    ComponentsModel* components_ = nullptr;
    QTableView* components_view_ = nullptr;
    QLabel* shares_ = nullptr;
    SourcesPanel* sources_ = nullptr;
    WhatIfPanel* what_if_ = nullptr;
};

} // namespace becalm::desktop
