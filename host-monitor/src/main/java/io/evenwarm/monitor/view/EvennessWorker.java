package io.evenwarm.monitor.view;

import io.evenwarm.monitor.evenness.AirWords;
import io.evenwarm.monitor.evenness.CabinetAir;
import io.evenwarm.monitor.evenness.ComparisonResult;
import io.evenwarm.monitor.evenness.EvennessReport;
import io.evenwarm.monitor.evenness.EvennessWords;
import io.evenwarm.monitor.evenness.FigureChange;
import io.evenwarm.monitor.evenness.LiveSurvey;
import io.evenwarm.monitor.evenness.Reason;
import io.evenwarm.monitor.evenness.Stands;
import io.evenwarm.monitor.evenness.SurveyLoad;
import io.evenwarm.monitor.evenness.SurveyQuestion;
import io.evenwarm.monitor.evenness.SurveyResult;
import io.evenwarm.monitor.evenness.SurveyWords;
import io.evenwarm.monitor.evenness.Verdict;
import io.evenwarm.monitor.evenness.Wording;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.report.AirFlowPicture;
import io.evenwarm.monitor.report.AirHistory;
import io.evenwarm.monitor.report.CabinetPicture;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Consumer;

/**
 * Answers questions about a cabinet's evenness, one at a time, the newest only; on a thread of its
 * own, since a survey reads millions of readings.
 */
final class EvennessWorker {

    private final HistoryQueries history;
    private final WindowEvenness known;
    private final Consumer<Answer> onAnswer;
    private final AtomicReference<Optional<Question>> waiting =
            new AtomicReference<>(Optional.empty());

    /**
     * What a person wants to know.
     *
     * @param span to survey; empty to look at the air flow over the whole record
     * @param other to compare with
     * @param isLive whether to survey from the span's begin until now, again and again
     * @param wording of the answer
     */
    record Question(
            CabinetKey key,
            Optional<TimeSpan> span,
            Optional<TimeSpan> other,
            boolean isLive,
            Wording wording) {}

    /**
     * What came of it.
     *
     * @param isOver whether nothing more will come to this question
     */
    record Answer(Question question, EvennessModel model, boolean isOver) {}

    /** A survey that goes on. */
    private record Running(Question question, LiveSurvey survey) {}

    /** By this worker's thread only. */
    private Optional<Running> running = Optional.empty();

    /**
     * @param onAnswer runs on this worker's thread
     */
    EvennessWorker(HistoryQueries history, WindowEvenness known, Consumer<Answer> onAnswer) {
        this.history = history;
        this.known = known;
        this.onAnswer = onAnswer;
    }

    /** Takes the place of a question that waits. Never waits; wake the thread afterwards. */
    void ask(Question question) {
        waiting.set(Optional.of(question));
    }

    /** Answers what waits, or else says how far a live survey has come. */
    void round() {
        Optional<Question> next = waiting.getAndSet(Optional.empty());
        if (next.isPresent()) {
            Question question = next.get();
            running = Optional.empty();
            if (question.isLive()) {
                begin(question);
            } else {
                onAnswer.accept(new Answer(question, model(question), true));
            }
        }
        running.ifPresent(this::look);
    }

    private void begin(Question question) {
        try {
            running =
                    Optional.of(
                            new Running(
                                    question,
                                    new LiveSurvey(
                                            asked(question),
                                            question.span().orElseThrow().from(),
                                            LiveSurvey.SETTLED_USUAL)));
        } catch (UncheckedIOException e) {
            onAnswer.accept(new Answer(question, none(e), true));
        }
    }

    private void look(Running live) {
        CabinetKey key = live.question().key();
        try {
            Optional<TimeSpan> extent = history.extent(key);
            if (extent.isEmpty()) {
                return;
            }
            LiveSurvey.Progress progress =
                    live.survey().look(span -> history.everyReading(key, span), extent.get().to());
            running = progress.isDone() ? Optional.empty() : running;
            onAnswer.accept(
                    new Answer(
                            live.question(),
                            model(progress.report()).after(progress.words()),
                            progress.isDone()));
        } catch (UncheckedIOException | IllegalArgumentException e) {
            running = Optional.empty();
            onAnswer.accept(new Answer(live.question(), none(e), true));
        }
    }

    private static EvennessModel none(RuntimeException why) {
        return EvennessModel.none("No verdict.", List.of(String.valueOf(why.getMessage())));
    }

    private EvennessModel model(Question question) {
        try {
            return question.span().isPresent()
                    ? survey(question, question.span().get())
                    : airFlow(question);
        } catch (UncheckedIOException | IllegalArgumentException e) {
            return none(e);
        }
    }

    private EvennessModel airFlow(Question question) {
        CabinetAir air =
                new AirHistory(question.key(), known.probes(), known.flowBegin(question.key()))
                        .read(history);
        AirWords words = new AirWords(question.wording());
        List<String> notes = new ArrayList<>();
        air.astray().forEach(astray -> notes.add(Words.sentence(words.evidence(astray)) + "."));
        if (air.astray().isEmpty()) {
            notes.add("No probe has left its place among the others.");
        }
        return new EvennessModel(
                words.verdict(air.flow()),
                air.flow().state().fold(learning -> false, s -> true, w -> false, s -> false),
                notes,
                AirFlowPicture.of(
                        air.flow().days(), question.wording(), AirFlowPicture.WINDOW_WIDTH),
                List.of(),
                List.of());
    }

    private EvennessModel survey(Question question, TimeSpan span) {
        EvennessReport report =
                EvennessReport.of(
                        asked(question),
                        history.everyReading(question.key(), span),
                        Optional.empty(),
                        question.other().map(other -> history.everyReading(question.key(), other)));
        return model(report);
    }

    private SurveyQuestion asked(Question question) {
        SurveyWords said = known.surveyWords();
        return SurveyQuestion.usual(
                known.probes(),
                new SurveyLoad.Known(Optional.empty(), Optional.empty(), said, known.tubs()),
                // Where a probe stood is said once a run is over.
                question.isLive() ? Stands.NONE : said.standsIn(question.key()),
                question.wording());
    }

    private static EvennessModel model(EvennessReport report) {
        return report.survey()
                .fold(
                        surveyed -> surveyed(report, surveyed),
                        withheld -> EvennessModel.none("No verdict.", words(withheld.reasons())));
    }

    private static List<String> words(List<Reason> reasons) {
        return reasons.stream().map(Reason::words).toList();
    }

    private static EvennessModel surveyed(EvennessReport report, SurveyResult.Surveyed survey) {
        EvennessWords words = new EvennessWords(report.wording());
        String verdict = words.verdict(survey.temperature());
        boolean isGood =
                survey.temperature()
                        .verdict()
                        .map(Verdict::answer)
                        .filter(answer -> answer == Verdict.Answer.PASS)
                        .isPresent();
        List<String> notes = new ArrayList<>();
        List<EvennessWords.Line> figures = new ArrayList<>();
        if (report.against().isPresent()) {
            EvennessReport.Against against = report.against().get();
            String title =
                    "Compared with "
                            + report.words(against.span())
                            + (against.isEarlier() ? ", before: " : ", after: ");
            against.loadsDiffer().ifPresent(notes::add);
            if (against.comparison().isPresent()) {
                ComparisonResult comparison = against.comparison().get();
                notes.add(
                        title
                                + comparison.fold(
                                        ComparisonResult.Compared::sentence,
                                        no -> String.join(" ", words(no.reasons()))));
                comparison
                        .fold(
                                ComparisonResult.Compared::whyNoHumidity,
                                no -> Optional.<String>empty())
                        .ifPresent(notes::add);
                comparison
                        .fold(ComparisonResult.Compared::changes, no -> List.<FigureChange>of())
                        .forEach(change -> figures.add(words.line(change)));
            } else {
                notes.add(
                        title
                                + "No verdict. "
                                + against.survey()
                                        .fold(
                                                surveyed -> "",
                                                no -> String.join(" ", words(no.reasons()))));
            }
        }
        notes.add(survey.settledWords());
        notes.add(report.load().words(report.wording()));
        figures.addAll(words.lines(survey.temperature()));
        survey.humidity().ifPresent(humidity -> figures.addAll(words.lines(humidity)));
        return new EvennessModel(
                verdict,
                isGood,
                notes,
                CabinetPicture.of(survey.temperature(), report.wording()),
                figures,
                report.probes().stream().map(probe -> probe.words(report.wording())).toList());
    }
}
