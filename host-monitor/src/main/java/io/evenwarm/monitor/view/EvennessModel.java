package io.evenwarm.monitor.view;

import io.evenwarm.monitor.evenness.EvennessWords;
import io.evenwarm.monitor.report.Picture;
import java.util.ArrayList;
import java.util.List;

/**
 * What a question about a cabinet's evenness came to, in finished words and pictures.
 *
 * @param verdict the answer in one sentence; of a comparison, that of the comparison
 * @param isGood whether it is the answer that one hopes for
 * @param notes what is to be read before the figures, a sentence or more each
 * @param figures by name
 * @param probes how far each can be believed
 */
record EvennessModel(
        String verdict,
        boolean isGood,
        List<String> notes,
        List<Picture> pictures,
        List<EvennessWords.Line> figures,
        List<String> probes) {

    EvennessModel {
        notes = List.copyOf(notes);
        pictures = List.copyOf(pictures);
        figures = List.copyOf(figures);
        probes = List.copyOf(probes);
    }

    /** The same, with something to be read before all else. */
    EvennessModel after(String first) {
        List<String> all = new ArrayList<>(List.of(first));
        all.addAll(notes);
        return new EvennessModel(verdict, isGood, all, pictures, figures, probes);
    }

    /** There is no answer, and that is why. */
    static EvennessModel none(String verdict, List<String> notes) {
        return new EvennessModel(verdict, false, notes, List.of(), List.of(), List.of());
    }
}
