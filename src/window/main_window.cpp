// SPDX-License-Identifier: GPL-3.0-or-later
#include "window/main_window.hpp"

#include <QCheckBox>
#include <QComboBox>
#include <QGroupBox>
#include <QHeaderView>
#include <QLabel>
#include <QListWidget>
#include <QProgressBar>
#include <QPushButton>
#include <QScrollArea>
#include <QSlider>
#include <QSplitter>
#include <QStatusBar>
#include <QTableWidget>
#include <QVBoxLayout>

#include "window/colour_bar.hpp"
#include "window/figures_panel.hpp"
#include "window/look.hpp"
#include "window/response_chart.hpp"

namespace calmplate::window {
namespace {

constexpr double kMarginM = 0.012;  // of the texture round the skin, for marks at the rim
constexpr int kFrameMilliseconds = 40;
constexpr int kColdest = -20, kWarmest = 80;

QString level_unit(const job::Job& job) {
  return job.drive.kind == drive::Kind::tap ? "dB re (1 nm/s)\u00b2 s\u00b2" : "dB re 1 nm/s";
}

}  // namespace

MainWindow::MainWindow(app::LoadedJob loaded, editing::JobText text, Trace& trace)
    : loaded_(std::move(loaded)),
      text_(std::move(text)),
      trace_(trace),
      document_(loaded_.job, loaded_.panel, text_.text()),
      mesh_(loaded_.panel, kMarginM),
      paint_(loaded_.panel, loaded_.job, mesh_.texture_low(), mesh_.texture_size()),
      hand_(document_),
      bench_(loaded_, document_) {
  if (document_.layouts().empty()) {
    // Nothing to lay sheet on yet: the person begins with an empty layout.
    document_.add_layout(words::new_layout().toStdString());
  }
  layout_id_ = document_.layout(0).id;
  auto* across = new QSplitter(Qt::Horizontal, this);
  across->addWidget(make_left());
  auto* middle = new QSplitter(Qt::Vertical, across);
  middle->addWidget(make_middle());
  chart_ = new ResponseChart(middle);
  chart_->setObjectName("chart");
  chart_->set_band(loaded_.job.band.low_hz, loaded_.job.band.high_hz, level_unit(loaded_.job));
  middle->addWidget(chart_);
  middle->setStretchFactor(0, 5);
  middle->setStretchFactor(1, 2);
  across->addWidget(middle);
  across->addWidget(make_right());
  across->setStretchFactor(1, 1);
  setCentralWidget(across);
  place_ = new QLabel(this);
  busy_word_ = new QLabel(this);
  busy_ = new QProgressBar(this);
  busy_->setRange(0, 100);
  busy_->setMaximumWidth(140);
  busy_->hide();
  statusBar()->addPermanentWidget(busy_word_);
  statusBar()->addPermanentWidget(busy_);
  statusBar()->addPermanentWidget(place_);
  make_menus();
  make_tools();
  refresh_lists();
  connect_view();
  connect_lists();
  connect_bench();
  view_->set_skin(mesh_);
  resize(1280, 860);
  refresh_title();
  refresh_figures();
  repaint_skin();
  view_->setFocus();
  if (!loaded_.job.warnings.empty())
    say(words::warnings(static_cast<int>(loaded_.job.warnings.size()),
                        QString::fromStdString(loaded_.job.warnings.front())));
  bench_.start();
}

MainWindow::~MainWindow() = default;

QWidget* MainWindow::make_left() {
  auto* side = new QWidget(this);
  auto* column = new QVBoxLayout(side);
  auto* layouts = new QGroupBox(words::layouts_head(), side);
  auto* layout_column = new QVBoxLayout(layouts);
  layouts_ = new QListWidget(layouts);
  layouts_->setObjectName("layouts");
  layouts_->setAccessibleName(words::layouts_head());
  layout_column->addWidget(layouts_);
  auto* buttons = new QGridLayout;
  int k = 0;
  for (const Act which :
       {Act::layout_new, Act::layout_copy, Act::layout_rename, Act::layout_remove}) {
    auto* button = new QPushButton(words::act(which).word.remove('&'), layouts);
    QObject::connect(
        button, &QPushButton::clicked, this, [this, which] { actions_.at(which)->trigger(); });
    buttons->addWidget(button, k / 2, k % 2);
    ++k;
  }
  layout_column->addLayout(buttons);
  column->addWidget(layouts, 2);
  auto* sheets = new QGroupBox(words::sheets_head(), side);
  auto* sheet_column = new QVBoxLayout(sheets);
  sheets_ = new QListWidget(sheets);
  sheets_->setObjectName("sheets");
  sheets_->setAccessibleName(words::sheets_head());
  sheets_->setWordWrap(true);
  for (std::size_t s = 0; s < loaded_.job.sheets.size(); ++s) {
    const sheet::Sheet& sheet = loaded_.job.sheets[s];
    QPixmap swatch(18, 18);
    swatch.fill(look::sheet_fill(s));
    sheets_->addItem(
        new QListWidgetItem(QIcon(swatch),
                            words::sheet_row(QString::fromStdString(sheet.name),
                                             sheet.core_thickness_m + sheet.foil_thickness_m,
                                             sheet.mass_per_area(),
                                             sheet.price_per_sheet,
                                             QString::fromStdString(loaded_.job.currency))));
  }
  face_ = new QComboBox(sheets);
  face_->addItems({words::face_inner(), words::face_outer()});
  face_->setAccessibleName(words::face_head());
  sheet_column->addWidget(sheets_);
  sheet_column->addWidget(face_);
  column->addWidget(sheets, 3);
  side->setMinimumWidth(220);
  side->setMaximumWidth(300);
  return side;
}

QWidget* MainWindow::make_middle() {
  auto* middle = new QWidget(this);
  auto* column = new QVBoxLayout(middle);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(2);
  auto* top = new QHBoxLayout;
  scale_ = new ColourBar(middle);
  side_ = new QLabel(middle);
  top->addWidget(scale_, 1);
  top->addWidget(side_);
  column->addLayout(top);
  view_ = new SkinView(middle);
  view_->setObjectName("view");
  column->addWidget(view_, 1);
  return middle;
}

QWidget* MainWindow::make_right() {
  auto* side = new QWidget(this);
  auto* column = new QVBoxLayout(side);
  figures_ = new FiguresPanel(side);
  figures_->set_units(QString::fromStdString(loaded_.job.currency), level_unit(loaded_.job));
  column->addWidget(figures_);
  temperature_word_ = new QLabel(side);
  temperature_ = new QSlider(Qt::Horizontal, side);
  temperature_->setRange(kColdest, kWarmest);
  temperature_->setPageStep(5);
  temperature_->setTickInterval(10);
  temperature_->setTickPosition(QSlider::TicksBelow);
  temperature_->setAccessibleName(words::temperature_name());
  temperature_->setValue(static_cast<int>(std::lround(loaded_.job.temperature_k - 273.15)));
  temperature_word_->setText(words::temperature(loaded_.job.temperature_k - 273.15));
  column->addWidget(temperature_word_);
  column->addWidget(temperature_);
  auto* modes = new QGroupBox(words::modes_head(), side);
  auto* mode_column = new QVBoxLayout(modes);
  modes_ = new QTableWidget(0, 3, modes);
  modes_->setObjectName("modes");
  modes_->setAccessibleName(words::modes_head());
  modes_->setHorizontalHeaderLabels(
      {words::mode_columns(0), words::mode_columns(1), words::mode_columns(2)});
  modes_->verticalHeader()->hide();
  modes_->horizontalHeader()->setSectionResizeMode(QHeaderView::Stretch);
  modes_->setEditTriggers(QAbstractItemView::NoEditTriggers);
  modes_->setSelectionBehavior(QAbstractItemView::SelectRows);
  modes_->setSelectionMode(QAbstractItemView::SingleSelection);
  modes_->setTabKeyNavigation(false);
  mode_column->addWidget(modes_);
  auto* row = new QHBoxLayout;
  animate_ = new QCheckBox(words::animate(), modes);
  amplitude_word_ = new QLabel(words::amplitude(30), modes);
  row->addWidget(animate_);
  row->addWidget(amplitude_word_, 1, Qt::AlignRight);
  mode_column->addLayout(row);
  amplitude_ = new QSlider(Qt::Horizontal, modes);
  amplitude_->setRange(5, 100);
  amplitude_->setValue(30);
  amplitude_->setAccessibleName(words::amplitude(30));
  mode_column->addWidget(amplitude_);
  column->addWidget(modes, 1);
  side->setMinimumWidth(250);
  side->setMaximumWidth(330);
  return side;
}

void MainWindow::connect_view() {
  view_->on_press = [this](const Eigen::Vector2d& at) {
    take(hand_.press(at, 8.0 * view_->m_per_px()), "press");
  };
  view_->on_drag = [this](const Eigen::Vector2d& at) { take(hand_.drag(at), "drag"); };
  view_->on_release = [this](const Eigen::Vector2d& at) {
    released_ms_ = trace_.now_ms();
    take(hand_.release(at), "release");
  };
  view_->on_hover = [this](const Eigen::Vector2d& at) {
    place_->setText(words::at_mm(1e3 * at.x(), 1e3 * at.y()));
  };
  view_->on_key = [this](QKeyEvent* event) { return key_in_view(event); };
  view_->on_tab = [this](bool backwards) {
    const bool taken = hand_.select_next(backwards);
    repaint_skin();
    say_selected();
    return taken;
  };
  view_->on_view_changed = [this] {
    paint_.mirror_words(view_->from_inside());
    side_->setText(view_->from_inside() ? words::seen_from_inside() : words::seen_from_outside());
    repaint_skin();
    trace_view();
  };
  QObject::connect(view_, &QOpenGLWidget::frameSwapped, this, [this] { trace_shown(); });
}

void MainWindow::connect_lists() {
  QObject::connect(layouts_, &QListWidget::currentRowChanged, this, [this](int row) {
    if (!filling_lists_ && row >= 0) to_layout(row);
  });
  QObject::connect(layouts_, &QListWidget::itemDoubleClicked, this, [this] { rename_layout(); });
  QObject::connect(sheets_, &QListWidget::currentRowChanged, this, [this](int row) {
    if (row < 0) return;
    const std::string& name = loaded_.job.sheets[static_cast<std::size_t>(row)].name;
    hand_.sheets = {name};
    bench_.show_map(name, actions_.at(Act::on_layout)->isChecked());
  });
  QObject::connect(face_, qOverload<int>(&QComboBox::currentIndexChanged), this, [this](int row) {
    hand_.face = row == 0 ? job::Face::inner : job::Face::outer;
  });
  QObject::connect(modes_, &QTableWidget::currentCellChanged, this, [this](int row, int, int, int) {
    if (filling_lists_ || row < 0) return;
    to_ground(Ground::mode);
  });
  QObject::connect(animate_, &QCheckBox::toggled, this, [this](bool on) {
    actions_.at(Act::animate)->setChecked(on);
  });
  QObject::connect(amplitude_, &QSlider::valueChanged, this, [this](int mm) {
    amplitude_word_->setText(words::amplitude(mm));
    amplitude_->setAccessibleName(words::amplitude(mm));
  });
  QObject::connect(
      temperature_, &QSlider::valueChanged, this, [this](int c) { set_temperature(c); });
  temperature_rest_.setSingleShot(true);
  temperature_rest_.setInterval(80);
  QObject::connect(&temperature_rest_, &QTimer::timeout, this, [this] {
    bench_.show(hand_.layout(), temperature_->value() + 273.15);
  });
  frames_.setInterval(kFrameMilliseconds);
  QObject::connect(&frames_, &QTimer::timeout, this, [this] { next_frame(); });
  if (sheets_->count() > 0) sheets_->setCurrentRow(0);
}

}  // namespace calmplate::window
