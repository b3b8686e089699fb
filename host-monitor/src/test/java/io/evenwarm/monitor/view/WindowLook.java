package io.evenwarm.monitor.view;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import javafx.scene.Node;
import javafx.scene.Scene;
import javafx.scene.control.Labeled;
import javafx.stage.Stage;
import org.testfx.util.WaitForAsyncUtils;

/** What a person can read in an open window. */
record WindowLook(Stage stage) {

    private static final long SECONDS_MAX = 30;

    static void await(Callable<Boolean> condition) throws TimeoutException {
        WaitForAsyncUtils.waitFor(SECONDS_MAX, TimeUnit.SECONDS, condition);
    }

    static boolean isShown(Node node) {
        for (Node at = node; at != null; at = at.getParent()) {
            if (!at.isVisible()) {
                return false;
            }
        }
        return true;
    }

    Scene scene() {
        return stage.getScene();
    }

    /** By the window's thread only. */
    List<Labeled> labels() {
        List<Labeled> labels = new ArrayList<>();
        for (Node node : scene().getRoot().lookupAll("*")) {
            if (node instanceof Labeled labeled && isShown(node)) {
                labels.add(labeled);
            }
        }
        return labels;
    }

    List<String> texts() throws Exception {
        return WaitForAsyncUtils.asyncFx(
                        () ->
                                labels().stream()
                                        .map(Labeled::getText)
                                        .filter(text -> !text.isBlank())
                                        .toList())
                .get();
    }

    boolean says(String words) throws Exception {
        return texts().stream().anyMatch(text -> text.contains(words));
    }
}
