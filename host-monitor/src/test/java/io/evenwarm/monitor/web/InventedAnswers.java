package io.evenwarm.monitor.web;

import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;

/** One invented notice with one link, which counts once. */
final class InventedAnswers implements NoticeAnswers {

    static final String TOKEN = "invented-" + "t".repeat(34);

    final List<String> pressed = new CopyOnWriteArrayList<>();

    @Override
    public Optional<Told> told(String token) {
        return token.equals(TOKEN)
                ? Optional.of(new Told("ACT NOW: north too cold <i>", "Since 03:04.\n"))
                : Optional.empty();
    }

    @Override
    public Optional<Answer> acknowledge(String token) {
        if (!token.equals(TOKEN)) {
            return Optional.empty();
        }
        boolean isFirst = pressed.isEmpty();
        pressed.add(token);
        return Optional.of(new Answer(isFirst, isFirst ? "Acknowledged." : "Nothing awaits it."));
    }
}
