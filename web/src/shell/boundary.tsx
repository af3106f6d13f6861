import { Component, type ReactNode } from 'react';
import { Button } from '../ui/index.ts';
import { t } from '../words/index.ts';

/** Keeps one broken desk from taking the frame with it. */
export class Boundary extends Component<{ children: ReactNode }, { error: Error | null }> {
  override state: { error: Error | null } = { error: null };

  static getDerivedStateFromError(error: unknown): { error: Error } {
    return { error: error instanceof Error ? error : new Error(String(error)) };
  }

  override render(): ReactNode {
    const { error } = this.state;
    if (!error) return this.props.children;
    return (
      <div className="page" role="alert">
        <p>{t('shell.broken', { detail: error.message })}</p>
        <p>{t('shell.broken_safe')}</p>
        <div>
          <Button onPress={() => location.reload()}>{t('shell.reload')}</Button>
        </div>
      </div>
    );
  }
}
