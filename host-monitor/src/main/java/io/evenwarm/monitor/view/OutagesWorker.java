package io.evenwarm.monitor.view;

import io.evenwarm.monitor.evenness.Wording;
import io.evenwarm.monitor.history.CabinetKey;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Consumer;

/**
 * Lists and reviews outages, one question at a time, the newest only; on a thread of its own, since
 * a review fits a model to two weeks.
 */
final class OutagesWorker {

    private final WindowOutages outages;
    private final Consumer<Answer> onAnswer;
    private final AtomicReference<Optional<Question>> waiting =
            new AtomicReference<>(Optional.empty());

    /**
     * What a person wants to see.
     *
     * @param id which outage; empty for the newest
     * @param width of pictures, pixels
     */
    record Question(CabinetKey key, Optional<String> id, Wording wording, int width) {}

    /**
     * What came of it.
     *
     * @param chosen which one is reviewed; empty where there is none
     * @param told its review; empty while it is made, or where there is none
     * @param trouble why there is no answer; empty when there is one
     */
    record Answer(
            Question question,
            List<WindowOutages.Listed> list,
            Optional<String> chosen,
            Optional<WindowOutages.Told> told,
            String trouble) {}

    /**
     * @param onAnswer runs on this worker's thread; first with the list, then with the review too
     */
    OutagesWorker(WindowOutages outages, Consumer<Answer> onAnswer) {
        this.outages = outages;
        this.onAnswer = onAnswer;
    }

    /** Takes the place of a question that waits. Never waits; wake the thread afterwards. */
    void ask(Question question) {
        waiting.set(Optional.of(question));
    }

    /** Answers what waits. */
    void round() {
        Optional<Question> next = waiting.getAndSet(Optional.empty());
        next.ifPresent(this::answer);
    }

    private void answer(Question question) {
        List<WindowOutages.Listed> list = List.of();
        Optional<String> chosen = Optional.empty();
        try {
            list = outages.list(question.key(), question.wording());
            Optional<String> newest = list.stream().findFirst().map(WindowOutages.Listed::id);
            chosen = question.id().or(() -> newest);
            onAnswer.accept(new Answer(question, list, chosen, Optional.empty(), ""));
            Optional<WindowOutages.Told> told =
                    chosen.map(
                            id ->
                                    outages.review(
                                            question.key(),
                                            id,
                                            question.wording(),
                                            question.width()));
            onAnswer.accept(new Answer(question, list, chosen, told, ""));
        } catch (UncheckedIOException | IllegalArgumentException e) {
            onAnswer.accept(
                    new Answer(
                            question,
                            list,
                            chosen,
                            Optional.empty(),
                            String.valueOf(e.getMessage())));
        }
    }
}
